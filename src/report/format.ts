/**
 * How figures are written: one rounding rule a quantity, no more digits than the standard error allows (design
 * section 11). A no-break space keeps a figure and its unit on one line.
 */

import { power } from '../numerics/power.ts'

const NBSP = '\u00a0'
const MINUS = '\u2212'

/** Language of digits and separators where none is asked for. */
export const DEFAULT_LOCALE = 'en-GB'

/**
 * The step to which a figure is rounded: the place of the first digit of twice its standard error, within which it lies
 * in 19 of 20 runs.
 *
 * @param value - the figure
 * @param standardError - its standard error, same unit, >= 0; null: not known, two significant digits are kept
 * @param smallest - the finest step of the quantity, > 0
 * @returns a power of ten times 1, >= smallest
 * @example roundingStep(11237, 37, 1) // 10
 */
export function roundingStep(value: number, standardError: number | null, smallest: number): number {
  const scale = standardError === null ? Math.abs(value) / 10 : 2 * standardError
  if (scale <= smallest) return smallest
  // 1e-9: a scale of exactly 10, 100, … keeps its own place in floating point
  return Math.max(smallest, power(10, Math.floor(Math.log10(scale) + 1e-9)))
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
  const threeDigits = value === 0 ? 1 : power(10, Math.floor(Math.log10(Math.abs(value))) - 2)
  const step = Math.max(roundingStep(value, standardError, 1), threeDigits)
  return `${currency}${NBSP}${formatNumber(value, step, locale)}`
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
 * A worth a day, to the hundredth.
 *
 * @param value - currency a day
 * @param currency - code
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 1.24`
 */
export function formatPerDay(value: number, currency: string, locale: string = DEFAULT_LOCALE): string {
  return `${currency}${NBSP}${formatNumber(value, 0.01, locale)}`
}

/**
 * A share as whole per cent; what rounds to 0 or 100 without being it says so.
 *
 * @param share - [0, 1]
 * @param locale - BCP 47 tag
 * @returns e.g. `34 %`, `under 1 %`, `over 99 %`
 */
export function formatShare(share: number, locale: string = DEFAULT_LOCALE): string {
  if (share > 0 && share < 0.005) return `under 1${NBSP}%`
  if (share < 1 && share > 0.995) return `over 99${NBSP}%`
  return `${formatNumber(share * 100, 1, locale)}${NBSP}%`
}

/**
 * A share close to one (availability) as per cent with two decimals.
 *
 * @param share - [0, 1]
 * @param locale - BCP 47 tag
 * @returns e.g. `99.62 %`
 */
export function formatAvailability(share: number, locale: string = DEFAULT_LOCALE): string {
  return `${formatNumber(share * 100, 0.01, locale)}${NBSP}%`
}

/**
 * A share as so many of a hundred.
 *
 * @param share - [0, 1]
 * @returns e.g. `84 of 100`, `fewer than 1 of 100`, `more than 99 of 100`
 */
export function formatOfHundred(share: number): string {
  if (share > 0 && share < 0.005) return `fewer than 1 of${NBSP}100`
  if (share < 1 && share > 0.995) return `more than 99 of${NBSP}100`
  return `${Math.round(share * 100)} of${NBSP}100`
}

/**
 * Shares of a whole as whole parts of a hundred that add up to it.
 *
 * @param shares - [0, 1], sum 1
 * @returns one text a share, e.g. `26`, `54`, `20`; `fewer than 1` and `more than 99` where a whole part would hide one
 */
export function formatSplit(shares: readonly number[]): string[] {
  return splitOfHundred(shares).map((part, index) => {
    const share = shares[index] ?? 0
    if (part === 0 && share > 0) return 'fewer than 1'
    return part === 100 && share < 1 ? 'more than 99' : `${part}`
  })
}

/**
 * Shares of a whole as whole parts of a hundred that add up to it: each is rounded down, and what is left goes to those
 * that lost most.
 *
 * @param shares - [0, 1], sum 1
 * @returns one whole number a share, sum 100
 * @example splitOfHundred([0.256, 0.543, 0.201]) // [26, 54, 20]
 */
export function splitOfHundred(shares: readonly number[]): number[] {
  const parts = shares.map(share => Math.floor(share * 100 + 1e-9))
  const left = 100 - parts.reduce((sum, part) => sum + part, 0)
  const lost = shares.map((share, index) => share * 100 - (parts[index] ?? 0))
  const order = shares.map((_, index) => index).sort((a, b) => (lost[b] ?? 0) - (lost[a] ?? 0))
  for (const index of order.slice(0, left)) parts[index] = (parts[index] ?? 0) + 1
  return parts
}

/**
 * A share of lifetimes in the fewest words: so many of ten where that is exact.
 *
 * @param share - [0, 1]
 * @returns e.g. `9 of 10`, `96 of 100`
 */
export function formatLifetimes(share: number): string {
  const tenths = Math.round(share * 10)
  // 1e-9: a tenth has no exact binary form
  return Math.abs(share * 10 - tenths) < 1e-9 && tenths > 0 && tenths < 10
    ? `${tenths} of${NBSP}10`
    : formatOfHundred(share)
}

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
 * A number of years as it stands.
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

/**
 * An input as it stands: four significant digits unless told otherwise, its unit behind it.
 *
 * @param value - number or text; null: left open
 * @param unit - '' for none; `share` is written as per cent, a currency code goes in front
 * @param locale - BCP 47 tag
 * @param digits - significant digits, 1 to 21
 * @returns e.g. `12.5 years`, `12 %`
 */
export function formatInput(
  value: number | string | null,
  unit: string,
  locale: string = DEFAULT_LOCALE,
  digits = 4,
): string {
  if (value === null) return 'none'
  if (typeof value === 'string') return value
  const said = (number: number): string => significant(number, locale, digits)
  if (isShare(unit)) return `${said(value * 100)}${NBSP}%${unit.slice('share'.length)}`
  const money = MONEY.exec(unit)
  if (money !== null) return `${money[1]}${NBSP}${said(value)}${afterMoney(money)}`
  // a unit is a word; anything else (the tier effect has '0 to 2') says what the range is, and the range stands beside it
  if (!/^\p{L}/u.test(unit)) return said(value)
  const figure = said(value)
  // one year, not one years: what is read counts, not what was rounded
  return `${figure}${NBSP}${figure === said(1) ? unit.replace(/s$/, '') : unit}`
}

/**
 * An assumption as a person reads it: what the user wrote as it was written; what was filled in, and the middle of a
 * range, to three digits, since neither carries more.
 *
 * @param assumption - value, unit, range, and how well it is known
 * @param locale - BCP 47 tag
 * @returns e.g. `EUR 147`, `44.9 days`
 */
export function formatAssumption(
  assumption: {
    readonly value: number | string | null
    readonly low?: number | null
    readonly unit: string
    readonly known: string
  },
  locale: string = DEFAULT_LOCALE,
): string {
  return formatInput(
    assumption.value,
    assumption.unit,
    locale,
    assumption.known === 'yours' && (assumption.low ?? null) === null ? 8 : 3,
  )
}

/**
 * The range of an input, with "to".
 *
 * @param low - 10 % point; null: no range
 * @param high - 90 % point; null: no range
 * @param unit - as in formatInput
 * @param locale - BCP 47 tag
 * @returns e.g. `11 to 17 years`; `no range`
 */
export function formatInputRange(
  low: number | null,
  high: number | null,
  unit: string,
  locale: string = DEFAULT_LOCALE,
): string {
  if (low === null || high === null) return 'no range'
  const first = significant(isShare(unit) ? low * 100 : low, locale, 3)
  const money = MONEY.exec(unit)
  if (money !== null) return `${money[1]}${NBSP}${first} to ${significant(high, locale, 3)}${afterMoney(money)}`
  return `${first} to ${formatInput(high, unit, locale, 3)}`
}

/** A currency code, and what the money is for: `EUR`, `EUR/kWh`, `EUR per kWh`. */
const MONEY = /^([A-Z]{3})(?:(?:\/| per )(.+))?$/

function afterMoney(money: RegExpExecArray): string {
  return money[2] === undefined ? '' : ` per${NBSP}${money[2]}`
}

/** `share`, `share per year`, `share by year 15`, … */
function isShare(unit: string): boolean {
  return unit === 'share' || unit.startsWith('share ')
}

function significant(value: number, locale: string, digits: number): string {
  const text = digitsOf(locale, `significant ${digits}`, { maximumSignificantDigits: digits }).format(Math.abs(value))
  return value < 0 ? `${MINUS}${text}` : text
}

/** Makers of digits by locale and rule: each takes a tenth of a millisecond to set up, and a report asks for thousands. */
const makers = new Map<string, Intl.NumberFormat>()

function digitsOf(locale: string, rule: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${rule}`
  const maker = makers.get(key) ?? new Intl.NumberFormat(locale, options)
  makers.set(key, maker)
  return maker
}

function between(low: string, high: string): string {
  return low === high ? low : `${low}${NBSP}to${NBSP}${high}`
}
