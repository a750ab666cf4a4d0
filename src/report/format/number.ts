/** How digits are written: no more of them than the standard error allows. */

import { power } from '../../numerics/power.ts'

/** A no-break space: keeps a figure and its unit on one line. */
export const NBSP = '\u00a0'

const MINUS = '\u2212'

/** Language of digits and separators where none is chosen. */
export const DEFAULT_LOCALE = 'en-GB'

/**
 * The step to which a figure is rounded: the place of the first digit of twice its standard error, within which it lies
 * in 19 of 20 runs.
 *
 * @param value - the figure
 * @param standardError - its standard error, same unit, >= 0; null: not known, two significant digits are kept
 * @param smallest - the finest step of the quantity, > 0
 * @returns a power of ten, or smallest
 * @example roundingStep(11237, 37, 1) // 10
 */
export function roundingStep(value: number, standardError: number | null, smallest: number): number {
  const scale = standardError === null ? Math.abs(value) / 10 : 2 * standardError
  if (scale <= smallest) return smallest
  // 1e-9: a scale of exactly 10, 100, … keeps its own place in floating point
  return Math.max(smallest, power(10, Math.floor(Math.log10(scale) + 1e-9)))
}

/**
 * A figure as the report rounds it, to its standard error.
 *
 * @param value - the figure
 * @param standardError - of it, >= 0
 * @param finest - no finer step
 */
export function rounded(value = 0, standardError = 0, finest: number): number {
  const step = roundingStep(value, standardError, finest)
  // steps below 1 leave a tail of binary digits
  return Number((Math.round(value / step) * step).toPrecision(12))
}

/**
 * A figure with grouping and a true minus sign, rounded to a step.
 *
 * @param value - any finite number
 * @param step - power of ten, > 0
 * @param locale - BCP 47 tag
 * @returns e.g. `11,240`; `−3.5`; never `−0`
 * @example formatNumber(11237, 10) // '11,240'
 */
export function formatNumber(value: number, step: number, locale: string = DEFAULT_LOCALE): string {
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9))
  const rounded = Math.round(value / step) * step
  const text = digitsOf(locale, `fraction ${digits}`, {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(Math.abs(rounded))
  return rounded < 0 && /[1-9]/.test(text) ? `${MINUS}${text}` : text
}

/**
 * A number to a given number of significant digits, with grouping and a true minus sign.
 *
 * @param value - any finite number
 * @param locale - BCP 47 tag
 * @param digits - 1 to 21
 */
export function significant(value: number, locale: string, digits: number): string {
  const text = digitsOf(locale, `significant ${digits}`, { maximumSignificantDigits: digits }).format(Math.abs(value))
  return value < 0 ? `${MINUS}${text}` : text
}

/** Formatters by locale and rule, reused: one takes 0.1 ms to construct, and a report writes thousands of numbers. */
const makers = new Map<string, Intl.NumberFormat>()

function digitsOf(locale: string, rule: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${rule}`
  const maker = makers.get(key) ?? new Intl.NumberFormat(locale, options)
  makers.set(key, maker)
  return maker
}
