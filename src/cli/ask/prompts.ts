import { confirm, isCancel, select, text } from '@clack/prompts'

/** The person stopped answering. */
export class Stopped extends Error {}

const SKIP = 'empty: I do not know'

/** One of the things a person may choose. */
export interface Choice<Value extends string> {
  readonly value: Value
  readonly label: string
  readonly hint?: string
}

/**
 * What was answered.
 *
 * @param answer - of a prompt
 * @throws Stopped when the person stopped instead
 */
function answered<Answer>(answer: Answer): Exclude<Answer, symbol> {
  if (isCancel(answer)) throw new Stopped()
  // The sign of stopping is the only symbol.
  return answer as Exclude<Answer, symbol>
}

/**
 * Asks yes or no.
 *
 * @param message - the question
 * @throws Stopped when the person stops
 */
export async function yes(message: string): Promise<boolean> {
  return answered(await confirm({ message }))
}

/**
 * Asks for one of a few things; the first is the usual one.
 *
 * @param message - the question
 * @param choices - what may be chosen
 * @throws Stopped when the person stops
 */
export async function oneOf<Value extends string>(message: string, choices: readonly Choice<Value>[]): Promise<Value> {
  const options = choices.map(({ value, label, hint }) =>
    hint === undefined ? { value, label } : { value, label, hint },
  )
  return answered(await select<string>({ message, options })) as Value // one of the values given
}

/**
 * Asks for words.
 *
 * @param message - the question
 * @param usual - taken where nothing is typed
 * @param form - what the words must look like
 * @param faultOf - says what is wrong with them; undefined: nothing
 * @throws Stopped when the person stops
 */
export async function words(
  message: string,
  usual: string,
  form = /\S/,
  faultOf: (typed: string) => string | undefined = () => undefined,
): Promise<string> {
  const validate = (typed = ''): string | undefined => {
    const meant = typed.trim() === '' ? usual : typed.trim()
    if (!form.test(meant) || meant.length > 200) return `write it like ${usual}`
    return faultOf(meant)
  }
  const typed = answered(await text({ message, placeholder: usual, defaultValue: usual, validate }))
  return typed.trim() === '' ? usual : typed.trim()
}

/**
 * Asks for a number that may be unknown.
 *
 * @param message - the question
 * @param least - smallest number allowed
 * @param most - largest number allowed
 * @returns null where nothing is typed
 * @throws Stopped when the person stops
 */
export async function number(message: string, least: number, most: number): Promise<number | null> {
  const typed = await maybe(message, typed => faultOfNumber(typed, least, most, false))
  return typed === null ? null : Number(typed)
}

/**
 * Asks for words that may be unknown.
 *
 * @param message - the question
 * @param faultOf - says what is wrong with them; undefined: nothing
 * @returns null where nothing is typed
 * @throws Stopped when the person stops
 */
export async function maybe(message: string, faultOf: (typed: string) => string | undefined): Promise<string | null> {
  const validate = (typed = '') => (typed.trim() === '' ? undefined : faultOf(typed.trim()))
  const typed = answered(await text({ message, placeholder: SKIP, defaultValue: '', validate }))
  return typed.trim() === '' ? null : typed.trim()
}

/**
 * Asks for a number without which nothing can be said.
 *
 * @param message - the question
 * @param least - smallest number allowed
 * @param most - largest number allowed
 * @param whole - whole numbers only
 * @throws Stopped when the person stops
 */
export async function needed(message: string, least: number, most: number, whole = true): Promise<number> {
  return Number(answered(await text({ message, validate: (typed = '') => faultOfNumber(typed, least, most, whole) })))
}

/**
 * What is wrong with a number as typed.
 *
 * @param typed - the words
 * @param least - smallest number allowed
 * @param most - largest number allowed
 * @param whole - whole numbers only
 * @returns undefined where nothing is
 */
export function faultOfNumber(typed: string, least: number, most: number, whole: boolean): string | undefined {
  const value = typed.trim() === '' ? Number.NaN : Number(typed)
  if (value >= least && value <= most && (!whole || Number.isInteger(value))) return undefined
  return `write a ${whole ? 'whole ' : ''}number from ${least} to ${most}, with a point for decimals and without a unit`
}
