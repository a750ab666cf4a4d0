/** How counts, times and energy are written, each with its unit. */

import { formatInput } from './input.ts'
import { DEFAULT_LOCALE, formatNumber, NBSP, roundingStep } from './number.ts'

/**
 * A day in words.
 *
 * @param day - YYYY-MM-DD
 * @param locale - BCP 47 tag
 * @returns e.g. `14 March 2027`
 */
export function formatDay(day: string, locale: string = DEFAULT_LOCALE): string {
  return new Intl.DateTimeFormat(locale, { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(`${day}T00:00:00Z`))
}

/**
 * A mean number of things that happen (failures, visits), one decimal, two under 1.
 *
 * @param count - >= 0
 * @param standardError - null: not known
 * @param locale - BCP 47 tag
 * @returns e.g. `1.4`
 */
export function formatCount(count: number, standardError: number | null, locale: string = DEFAULT_LOCALE): string {
  return formatNumber(count, roundingStep(count, standardError, count < 0.995 ? 0.01 : 0.1), locale)
}

/**
 * Days: one decimal under 10, whole above.
 *
 * @param days - >= 0
 * @param locale - BCP 47 tag
 * @returns e.g. `41 days`
 */
export function formatDays(days: number, locale: string = DEFAULT_LOCALE): string {
  const text = formatNumber(days, days < 9.95 ? 0.1 : 1, locale)
  return `${text}${NBSP}${text === '1.0' ? 'day' : 'days'}`
}

/**
 * A number of years as given.
 *
 * @param years - >= 0
 * @param locale - BCP 47 tag
 * @returns e.g. `25 years`, `1 year`, `5.5 years`
 */
export function formatYears(years: number, locale: string = DEFAULT_LOCALE): string {
  return formatInput(years, 'years', locale)
}

/**
 * Energy in kWh, rounded by its standard error.
 *
 * @param kwh - kilowatt-hours
 * @param standardError - same unit; null: three significant digits
 * @param locale - BCP 47 tag
 * @returns e.g. `1,240 kWh`
 */
export function formatEnergy(kwh: number, standardError: number | null, locale: string = DEFAULT_LOCALE): string {
  const step = standardError === null ? roundingStep(kwh / 10, null, 1) : roundingStep(kwh, standardError, 1)
  return `${formatNumber(kwh, step, locale)}${NBSP}kWh`
}
