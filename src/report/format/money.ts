/** How money is written: whole units at the finest, rounded by the standard error, the currency code in front. */

import { power } from '../../numerics/power.ts'
import { DEFAULT_LOCALE, formatNumber, NBSP, roundingStep } from './number.ts'

/**
 * An amount of money with its currency code, rounded by its standard error, whole units at the finest.
 *
 * @param value - currency units
 * @param standardError - same unit; null: two significant digits; 0: an amount that is exactly known
 * @param currency - code, e.g. `EUR`
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 11,240`
 * @example formatMoney(11237, 37, 'EUR') // 'EUR 11,240'
 */
export function formatMoney(
  value: number,
  standardError: number | null,
  currency: string,
  locale: string = DEFAULT_LOCALE,
): string {
  return `${currency}${NBSP}${formatNumber(value, roundingStep(value, standardError, 1), locale)}`
}

/**
 * An amount of money as a sentence gives it: as formatMoney, and never to more than three digits.
 *
 * @param value - currency units
 * @param standardError - same unit, >= 0
 * @param currency - code
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 8,300`
 * @example formatAbout(8297, 4, 'EUR') // 'EUR 8,300'
 */
export function formatAbout(
  value: number,
  standardError: number,
  currency: string,
  locale: string = DEFAULT_LOCALE,
): string {
  return `${currency}${NBSP}${formatNumber(value, coarser(value, standardError, 3), locale)}`
}

/**
 * A difference of two amounts as a sentence gives it: never to more than two digits, so that it agrees with the amounts,
 * each of which is rounded by itself.
 *
 * @param value - currency units
 * @param standardError - same unit, >= 0
 * @param currency - code
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 2,700`
 * @example formatGap(2664, 4, 'EUR') // 'EUR 2,700'
 */
export function formatGap(
  value: number,
  standardError: number,
  currency: string,
  locale: string = DEFAULT_LOCALE,
): string {
  return `${currency}${NBSP}${formatNumber(value, coarser(value, standardError, 2), locale)}`
}

/** The larger of the step of the standard error and that of the given number of digits; at least 1. */
function coarser(value: number, standardError: number, digits: number): number {
  const kept = value === 0 ? 1 : power(10, Math.floor(Math.log10(Math.abs(value))) + 1 - digits)
  return Math.max(roundingStep(value, standardError, 1), kept)
}

/**
 * Two amounts as a range, both rounded alike.
 *
 * @param low - currency units
 * @param high - currency units
 * @param standardError - see formatMoney; null: two significant digits of the larger
 * @param currency - code
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 9,100 to 14,800`; one amount where both round to the same
 */
export function formatMoneyRange(
  low: number,
  high: number,
  standardError: number | null,
  currency: string,
  locale: string = DEFAULT_LOCALE,
): string {
  const step = roundingStep(Math.max(Math.abs(low), Math.abs(high)), standardError, 1)
  return `${currency}${NBSP}${between(formatNumber(low, step, locale), formatNumber(high, step, locale))}`
}

/**
 * A price of one kilowatt-hour: three decimals under 1, else two.
 *
 * @param value - currency per kWh
 * @param currency - code
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 0.093 per kWh`
 */
export function formatPricePerKwh(value: number, currency: string, locale: string = DEFAULT_LOCALE): string {
  return `${currency}${NBSP}${formatNumber(value, Math.abs(value) < 1 ? 0.001 : 0.01, locale)} per${NBSP}kWh`
}

/**
 * An amount a day, to the hundredth.
 *
 * @param value - currency a day
 * @param currency - code
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 1.24`
 */
export function formatPerDay(value: number, currency: string, locale: string = DEFAULT_LOCALE): string {
  return `${currency}${NBSP}${formatNumber(value, 0.01, locale)}`
}

function between(low: string, high: string): string {
  return low === high ? low : `${low}${NBSP}to${NBSP}${high}`
}
