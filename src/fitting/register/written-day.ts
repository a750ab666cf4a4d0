import { dayNumber } from '../records/dates.ts'

/** Which of day and month is written first. */
export const DATE_ORDERS = ['day-month', 'month-day'] as const

/** One of the orders. */
export type DateOrder = (typeof DATE_ORDERS)[number]

/** A date as written, under both orders: days since 1970-01-01, NaN where no calendar has that day. */
export interface WrittenDay {
  readonly dayMonth: number
  readonly monthDay: number
}

/** Years a date may lie in (ours: before, nobody had a solar inverter; after, the year is mistyped). */
const FIRST_YEAR = 1970
const LAST_YEAR = 2100

/** Two-digit years from here on are of the last century (the rule of POSIX strptime, %y). */
const LAST_CENTURY_FROM = 69

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']

const YEAR_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:[T ].*)?$/
const YEAR_LAST = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})(?:[T, ].*)?$/
const PACKED = /^(\d{4})(\d{2})(\d{2})$/
const DAY_NAME_YEAR = /^(\d{1,2})[-/. ]+([A-Za-z]{3,9})\.?[-/., ]+(\d{4})(?:[T, ].*)?$/
const NAME_DAY_YEAR = /^([A-Za-z]{3,9})\.? +(\d{1,2})(?:st|nd|rd|th)?,? +(\d{4})(?:[T, ].*)?$/

/**
 * Reads a date as people write it: 2021-04-30, 30/04/2021, 4/30/21, 30.04.2021, 30 Apr 2021, April 30, 2021, 20210430; a
 * time of day behind it is left out. Two-digit years need a stroke or dots, since 20-03-21 may begin with its year.
 *
 * @param text - trimmed, not empty
 * @returns the day under both orders, equal where the form leaves no choice; null where it is no date from 1970 to 2100
 * @example readWrittenDay('1/2/1970') // { dayMonth: 31, monthDay: 1 }
 */
export function readWrittenDay(text: string): WrittenDay | null {
  const yearFirst = YEAR_FIRST.exec(text)
  if (yearFirst !== null) return only(yearFirst[1], yearFirst[3], yearFirst[4])
  const yearLast = YEAR_LAST.exec(text)
  if (yearLast !== null) {
    const [, first, separator, second, year] = yearLast
    if (year?.length === 2 && separator === '-') return null
    const dayMonth = dayOf(fullYear(year), second, first)
    const monthDay = dayOf(fullYear(year), first, second)
    return Number.isNaN(dayMonth) && Number.isNaN(monthDay) ? null : { dayMonth, monthDay }
  }
  const packed = PACKED.exec(text)
  if (packed !== null) return only(packed[1], packed[2], packed[3])
  const dayName = DAY_NAME_YEAR.exec(text)
  if (dayName !== null) return only(dayName[3], monthOf(dayName[2]), dayName[1])
  const nameDay = NAME_DAY_YEAR.exec(text)
  return nameDay === null ? null : only(nameDay[3], monthOf(nameDay[1]), nameDay[2])
}

/**
 * The day under one order.
 *
 * @param day - as written
 * @param order - of its column
 * @returns days since 1970-01-01; NaN where the day does not exist in that order
 */
export function dayIn(day: WrittenDay, order: DateOrder): number {
  return order === 'day-month' ? day.dayMonth : day.monthDay
}

function only(year: string | undefined, month: string | undefined, day: string | undefined): WrittenDay | null {
  const number = dayOf(year, month, day)
  return Number.isNaN(number) ? null : { dayMonth: number, monthDay: number }
}

function dayOf(year: string | undefined, month: string | undefined, day: string | undefined): number {
  if (year === undefined || month === undefined || day === undefined) return Number.NaN
  if (Number(year) < FIRST_YEAR || Number(year) > LAST_YEAR) return Number.NaN
  return dayNumber(`${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`) ?? Number.NaN
}

function fullYear(year: string | undefined): string | undefined {
  if (year?.length !== 2) return year
  return `${Number(year) >= LAST_CENTURY_FROM ? '19' : '20'}${year}`
}

/** Number of an English month, by its first three letters; undefined for any other word. */
function monthOf(name: string | undefined): string | undefined {
  const at = MONTHS.indexOf((name ?? '').slice(0, 3).toLowerCase())
  return at < 0 ? undefined : String(at + 1)
}
