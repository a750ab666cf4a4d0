import { DAYS_OF_MONTH, DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../units.ts'

/** The months of the horizon, from the month of commissioning (T1). */
export interface Calendar {
  readonly horizonYears: number
  /** Calendar month (0 = January) of each of the twelve months of a model year. */
  readonly calendarMonth: readonly number[]
  /** Start of each month within a model year, in years; 13 values, the last is 1. */
  readonly monthStart: Float64Array
}

/**
 * The months of a horizon that starts in a given month (T1).
 *
 * @param startMonth - calendar month of commissioning, 1–12
 * @param horizonYears - whole years, >= 1
 * @returns months in order from the start
 */
export function calendarOf(startMonth: number, horizonYears: number): Calendar {
  const calendarMonth = Array.from({ length: MONTHS_PER_YEAR }, (_, i) => (startMonth - 1 + i) % MONTHS_PER_YEAR)
  const monthStart = new Float64Array(MONTHS_PER_YEAR + 1)
  let days = 0
  calendarMonth.forEach((month, i) => {
    days += DAYS_OF_MONTH[month] ?? 0
    monthStart[i + 1] = days / DAYS_PER_YEAR
  })
  return { horizonYears, calendarMonth, monthStart }
}
