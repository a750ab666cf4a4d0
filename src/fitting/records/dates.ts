import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../../units.ts'
import type { AgeUnit } from '../age-unit.ts'

const MS_PER_DAY = 86_400_000

/**
 * A date as days since 1970-01-01.
 *
 * @param text - YYYY-MM-DD; a time of day behind it is left out
 * @returns whole days; null for anything else and for days no calendar has, e.g. 2021-02-30
 * @example dayNumber('1970-01-02') // 1
 */
export function dayNumber(text: string): number | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})(?:[T ].*)?$/.exec(text)
  if (match === null) return null
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])]
  const time = Date.UTC(year, month - 1, day)
  const back = new Date(time)
  const kept = back.getUTCFullYear() === year && back.getUTCMonth() === month - 1 && back.getUTCDate() === day
  return kept ? time / MS_PER_DAY : null
}

/**
 * A day as text.
 *
 * @param day - days since 1970-01-01
 * @returns YYYY-MM-DD
 * @example dayText(1) // '1970-01-02'
 */
export function dayText(day: number): string {
  return new Date(day * MS_PER_DAY).toISOString().slice(0, 10)
}

/**
 * The month a day lies in.
 *
 * @param day - days since 1970-01-01
 * @returns months since year 0, January of year 0 being 0
 */
export function monthNumber(day: number): number {
  const date = new Date(day * MS_PER_DAY)
  return date.getUTCFullYear() * MONTHS_PER_YEAR + date.getUTCMonth()
}

/**
 * A month as text.
 *
 * @param month - from `monthNumber`
 * @returns e.g. 2019-04
 * @example monthText(2019 * 12 + 3) // '2019-04'
 */
export function monthText(month: number): string {
  const year = Math.floor(month / MONTHS_PER_YEAR)
  return `${String(year).padStart(4, '0')}-${String((month % MONTHS_PER_YEAR) + 1).padStart(2, '0')}`
}

const DAYS_PER_UNIT = {
  hours: 1 / 24,
  days: 1,
  months: DAYS_PER_YEAR / MONTHS_PER_YEAR,
  years: DAYS_PER_YEAR,
} satisfies Record<AgeUnit, number>

/**
 * Days as an age in the unit of the records; a year is 365 days (T1).
 *
 * @param days - any number
 * @param ageUnit - the unit
 * @example ageFromDays(730, 'years') // 2
 */
export function ageFromDays(days: number, ageUnit: AgeUnit): number {
  return days / DAYS_PER_UNIT[ageUnit]
}
