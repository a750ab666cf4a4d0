import { confirm, isCancel, select, text } from '@clack/prompts'

/** The person stopped answering. */
export class Stopped extends Error {}

const SKIP = 'empty: I do not know'

/** One of the things a person may choose. */
export interface PromptChoice<Value extends string> {
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
  // A symbol means that the person stopped; answers are never symbols.
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
export async function askOneOf<Value extends string>(
  message: string,
  choices: readonly PromptChoice<Value>[],
): Promise<Value> {
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

/** What a number must be; `implausible` says what is odd about one within its bounds. */
export interface NumberRule {
  readonly least: number
  readonly most: number
  readonly whole?: boolean
  readonly implausible?: (value: number) => string | undefined
}

/**
 * Asks for a number that may be unknown.
 *
 * @param message - the question
 * @param rule - what it must be
 * @returns null where nothing is typed
 * @throws Stopped when the person stops
 */
export async function askNumber(message: string, rule: NumberRule): Promise<number | null> {
  const typed = await maybe(message, said => faultOfNumber(said, rule))
  return typed === null ? null : numberAsTyped(typed)
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
 * Asks for a number that must be given.
 *
 * @param message - the question
 * @param rule - what it must be
 * @throws Stopped when the person stops
 */
export async function needed(message: string, rule: NumberRule): Promise<number> {
  const validate = (typed = '') => faultOfNumber(typed, rule)
  return numberAsTyped(answered(await text({ message, validate })))
}

/** Units that are ignored: the question says which unit is meant. */
const UNIT = /\s*(?:kwh|kwp?|w|years?|yrs?|eur|usd|aud|gbp|€|\$|£|°|degrees?|panels?|per kwh|\/ ?kwh)\.?$/i

/**
 * A number as people type it: `8 kW`, `0,30`, `12 years`, `30 ct` for 0.30, `10 900`.
 *
 * @param typed - the words
 * @returns NaN where they are no number, or where a point or comma before three digits leaves its meaning open
 */
export function numberAsTyped(typed: string): number {
  const cents = /^(.*\d)\s*(?:ct|cts|cents?|c)$/i.exec(typed.trim())
  if (cents !== null) return numberAsTyped(cents[1] ?? '') / 100
  const bare = typed
    .trim()
    .replace(/^[€$£]\s*/, '')
    .replace(UNIT, '')
    .replace(/(\d)[ '’](?=\d{3}\b)/g, '$1')
  if (OPEN.test(bare) || !/^[+-]?\d+(?:[.,]\d+)?$/.test(bare)) return Number.NaN
  return Number(bare.replace(',', '.'))
}

/** A point or a comma that may separate thousands. */
const OPEN = /^[1-9]\d{0,2}[.,]\d{3}$/

/**
 * What is wrong with a number as typed.
 *
 * @param typed - the words
 * @param rule - what it must be
 * @returns undefined where nothing is
 */
export function faultOfNumber(
  typed: string,
  { least, most, whole = false, implausible }: NumberRule,
): string | undefined {
  const value = numberAsTyped(typed)
  if (value >= least && value <= most && (!whole || Number.isInteger(value))) return implausible?.(value)
  const bare = typed.trim().replace(UNIT, '')
  if (OPEN.test(bare)) return `write ${bare.replace(/[.,]/, '')}, or ${Number(bare.replace(',', '.'))}`
  return `write a ${whole ? 'whole ' : ''}number from ${least} to ${most}`
}
