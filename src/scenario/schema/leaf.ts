import * as z from 'zod'
import { nearest, show } from '../../input/problems.ts'

/** Bounds of a number in a scenario. */
export interface Bounds {
  readonly min: number
  readonly max: number
  /** Whether `min` itself is refused. */
  readonly above?: boolean
}

/**
 * A number with a unit.
 *
 * @param bounds - smallest and largest value taken
 * @param unit - e.g. `years`; kept as metadata for the list of assumptions
 */
export function number(bounds: Bounds, unit = '') {
  const error = numberWording(`a number ${between(bounds)}${unitText(unit)}`)
  const base = z.number({ error }).max(bounds.max, { error })
  return (bounds.above === true ? base.gt(bounds.min, { error }) : base.min(bounds.min, { error })).meta({ unit })
}

/**
 * A whole number.
 *
 * @param min - smallest value taken
 * @param max - largest value taken
 * @param unit - as of `number`
 */
export function whole(min: number, max: number, unit = '') {
  const error = numberWording(`a whole number from ${plain(min)} to ${plain(max)}${unitText(unit)}`)
  return z.number({ error }).int({ error }).min(min, { error }).max(max, { error }).meta({ unit })
}

/** An amount of money, 0 or more. */
export function money() {
  const error = numberWording('an amount of money from 0 to 1,000,000,000')
  return z.number({ error }).min(0, { error }).max(1e9, { error }).meta({ unit: '{currency}' })
}

/**
 * A share: `12%` or `0.12`; read into a number.
 *
 * @param bounds - as numbers; 0 to 1 unless given
 */
export function share(bounds: Bounds = { min: 0, max: 1 }) {
  return percent(bounds, `a share ${percentBetween(bounds)}, written like 12% or 0.12`).meta({ unit: 'share' })
}

/**
 * A share per year, such as the chance of failing in a year.
 *
 * @param bounds - as of `share`
 */
export function yearlyShare(bounds: Bounds) {
  return share(bounds).meta({ unit: YEARLY })
}

/** A yearly growth or rate of change: `-2%` or `-0.02`; from -50 % to 50 %. */
export function growth() {
  const allowed = 'a yearly rate from -50% to 50%, written like 2% or 0.02'
  return percent({ min: -0.5, max: 0.5 }, allowed).meta({ unit: YEARLY })
}

const YEARLY = 'share per year'

function percent(bounds: Bounds, allowed: string) {
  const message = numberWording(allowed)
  const error = (issue: { readonly input?: unknown }): string => {
    const { input } = issue
    const meant = typeof input === 'number' && Math.abs(input) >= 1 && inside(input / 100)
    return meant ? `${message(issue)}; if you mean ${input} %, write ${input}%` : message(issue)
  }
  const inside = (value: number) =>
    (bounds.above === true ? value > bounds.min : value >= bounds.min) && value <= bounds.max
  return z
    .union(
      [
        z.number({ error }).min(bounds.min, { error }).max(bounds.max, { error }),
        z.string({ error }).regex(PERCENT, { error }),
      ],
      { error },
    )
    .transform(value => (typeof value === 'number' ? value : fromPercent(value)))
    .refine(inside, { error })
}

const PERCENT = /^\s*[-+]?\d+(\.\d+)?\s*%\s*$/

// Dividing the written decimal by 100 keeps 12 % at 0.12; parseFloat stops at the sign of per cent.
function fromPercent(text: string): number {
  return Number.parseFloat(text) / 100
}

/**
 * One of some words.
 *
 * @param words - the words taken
 */
export function oneOf<const Words extends readonly [string, ...string[]]>(words: Words) {
  const message = wording(`one of ${words.join(', ')}`)
  return z.enum(words, {
    error: issue => {
      const meant = typeof issue.input === 'string' ? nearest(issue.input, words) : null
      return meant === null ? message(issue) : `${message(issue)}; did you mean "${meant}"?`
    },
  })
}

/** A text a person reads: 1 to 200 characters on one line. */
export function text() {
  const error = wording('a text of 1 to 200 characters on one line')
  return (
    z
      .string({ error })
      .min(1, { error })
      .max(200, { error })
      // No control characters: they would break tables and terminals.
      .regex(/^\P{Cc}*$/u, { error })
      .refine(value => value.trim() !== '', { error })
  )
}

/** Yes or no, in either spelling of YAML. */
export function flag() {
  const error = wording('yes or no, true or false')
  return z.union([z.boolean({ error }), z.enum(['yes', 'no'], { error })], { error }).transform(isYes)
}

function isYes(value: boolean | 'yes' | 'no'): boolean {
  return value === true || value === 'yes'
}

/**
 * Words of a wrong value: what was found and what is allowed.
 *
 * @param allowed - what is allowed, e.g. `a whole number from 1 to 60 years`
 * @returns a function that takes the issue and gives the message
 */
export function wording(allowed: string) {
  // Our checks read the value they refuse from the issue; zod calls it `input`.
  return (issue: { readonly input?: unknown }): string => {
    if (issue.input === undefined) return `missing; needed: ${allowed}`
    if (isRange(issue.input)) return `found a range; this key takes no range: ${allowed}`
    return `found ${show(issue.input)}; allowed: ${allowed}`
  }
}

/** As `wording`, for a number; also how to write it where that is clear. */
function numberWording(allowed: string) {
  const message = wording(allowed)
  return (issue: { readonly input?: unknown }): string =>
    `${message(issue)}${typeof issue.input === 'string' ? writtenRight(issue.input) : ''}`
}

/** For a number written with a decimal comma, thousands signs, a currency or a unit: how it is to be written. */
function writtenRight(found: string): string {
  const parts = /^[^\d.,+-]*([+-]?\d[\d.,]*)\s*(%?)[^\d.,%]*$/.exec(found)
  if (parts === null) return ''
  const [, digits = '', percent = ''] = parts
  // Three digits behind a point may be thousands.
  const thousands = /^([1-9]\d{0,2})\.(\d{3})$/.exec(digits)
  if (thousands !== null)
    return `; write ${Number(digits)}, or ${thousands[1]}${thousands[2]} if the point separates thousands`
  const plainDigits = /^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$/.test(digits)
    ? digits.replaceAll(',', '')
    : /^[+-]?\d{1,3}(\.\d{3})+(,\d+)?$/.test(digits)
      ? digits.replaceAll('.', '').replace(',', '.')
      : digits.replace(',', '.')
  const right = `${plainDigits}${percent}`
  return Number.isFinite(Number(plainDigits)) && right !== found ? `; write ${right}` : ''
}

/** Whether a value is written as a range. */
export function isRange(value: unknown): boolean {
  return typeof value === 'object' && value !== null && ('low' in value || 'high' in value)
}

/**
 * A number as a message shows it, thousands separated by commas.
 *
 * @param value - any finite number
 * @example plain(100000) // '100,000'
 */
export function plain(value: number): string {
  const [whole = '', fraction] = String(value).split('.')
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ',')
  return fraction === undefined ? grouped : `${grouped}.${fraction}`
}

function between(bounds: Bounds): string {
  return bounds.above === true
    ? `above ${plain(bounds.min)}, at most ${plain(bounds.max)}`
    : `from ${plain(bounds.min)} to ${plain(bounds.max)}`
}

function percentBetween(bounds: Bounds): string {
  const [low, high] = [`${plain(bounds.min * 100)}%`, `${plain(bounds.max * 100)}%`]
  return bounds.above === true ? `above ${low}, at most ${high}` : `from ${low} to ${high}`
}

function unitText(unit: string): string {
  return unit === '' ? '' : ` ${unit}`
}
