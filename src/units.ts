/**
 * The calendar of the model (T1) and the conversions that go with it.
 */

/** Days of a model year: 365, no leap years (T1). */
export const DAYS_PER_YEAR = 365

/** Hours of a model year. */
export const HOURS_PER_YEAR = 24 * DAYS_PER_YEAR

/** Months of a year. */
export const MONTHS_PER_YEAR = 12

/** Days of the twelve calendar months, January first; their sum is 365. */
export const DAYS_OF_MONTH: readonly number[] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** English names of the twelve months, January first. */
export const MONTH_NAMES: readonly string[] = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]
