/** How an input of the scenario is written: its value or range with its unit, in few digits. */

import { DEFAULT_LOCALE, NBSP, significant } from './number.ts'

/**
 * An input as given: four significant digits unless its unit says otherwise, then the unit.
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
  // a unit is a word; anything else (the tier effect has '0 to 2') says what the range is, and the range is shown with it
  if (!/^\p{L}/u.test(unit)) return said(value)
  const figure = said(value)
  // singular by the text shown: 1.00001 is written 1 and takes "year"
  return `${figure}${NBSP}${figure === said(1) ? unit.replace(/s$/, '') : unit}`
}

/**
 * An assumption as a person reads it: what the user wrote as it was written; what was filled in, and the middle of a
 * range, to three digits, since neither is known better.
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
