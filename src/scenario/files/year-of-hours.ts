import type { CsvTable } from '../../input/csv.ts'
import { HOURS_PER_YEAR } from '../../units.ts'
import { rowTimes } from './row-times.ts'

/** Hours before the 29th of February, and in a year that has one. */
const LEAP_DAY_START = 59 * 24
const LEAP_YEAR_HOURS = HOURS_PER_YEAR + 24

/** Which hours of a year of 8,760 the rows of a file are. */
export interface YearOfHours {
  /** Rows an hour: 1, 2 or 4. */
  readonly rowsAnHour: number
  /** Hour of each row, [0, 8760); null: on a 29 February. */
  readonly hourOf: readonly (number | null)[]
}

/**
 * Places the rows of a file in a year: by their dates where they have some, so that a file may begin in any
 * month and have gaps; else in order from the first hour of 1 January, as many as a year has. A 29 February is left out.
 *
 * @param table - hours, half-hours or quarter-hours
 * @returns the places, or what is wrong in words
 */
export function yearOfHours(table: CsvTable): YearOfHours | string {
  const times = rowTimes(table)
  return times === null ? byOrder(table.rows.length) : byTime(times)
}

function byOrder(nRows: number): YearOfHours | string {
  const rowsAnHour = [1, 2, 4].find(n => nRows === n * HOURS_PER_YEAR || nRows === n * LEAP_YEAR_HOURS)
  if (rowsAnHour === undefined)
    return `found ${nRows} rows without dates; allowed: 8760 hours, 17520 half-hours or 35040 quarter-hours, or the same with a 29 February (8784, 17568, 35136)`
  const leap = nRows === rowsAnHour * LEAP_YEAR_HOURS
  const hourOf = Array.from({ length: nRows }, (_, row) => {
    const hour = Math.floor(row / rowsAnHour)
    if (!leap || hour < LEAP_DAY_START) return hour
    return hour < LEAP_DAY_START + 24 ? null : hour - 24
  })
  return { rowsAnHour, hourOf }
}

function byTime(times: NonNullable<ReturnType<typeof rowTimes>>): YearOfHours | string {
  const step = usualStep(times.map(time => time.running))
  if (step !== 60 && step !== 30 && step !== 15)
    return `its rows are ${step} minutes apart; allowed: 60, 30 or 15 minutes`
  const [first, last] = [times[0]?.running ?? 0, times.at(-1)?.running ?? 0]
  const days = (Math.max(first, last) - Math.min(first, last)) / (24 * 60)
  if (days > 366) return `its rows run over ${Math.round(days)} days; keep one year of them`
  // Rows that say when a step ends begin one step after midnight and end at midnight.
  const early = Math.min(first, last) % (24 * 60) === step && Math.max(first, last) % (24 * 60) === 0 ? step : 0
  const year = HOURS_PER_YEAR * 60
  const hourOf = times.map(({ minute }) =>
    minute === null ? null : Math.floor(((((minute - early) % year) + year) % year) / 60),
  )
  return { rowsAnHour: 60 / step, hourOf }
}

/** The distance that most neighbours have. */
function usualStep(minutes: readonly number[]): number {
  const counts = new Map<number, number>()
  for (let row = 1; row < minutes.length; row++) {
    const step = Math.abs((minutes[row] ?? 0) - (minutes[row - 1] ?? 0))
    counts.set(step, (counts.get(step) ?? 0) + 1)
  }
  return [...counts].reduce((best, next) => (next[1] > best[1] ? next : best), [0, 0])[0]
}

/**
 * The mean of the steps of each hour.
 *
 * @param year - which hours the rows are
 * @param values - one a row; NaN: not known
 * @returns 8,760 means; NaN where less than half of the hour is known
 */
export function meansOfHours(year: YearOfHours, values: ArrayLike<number>): Float64Array {
  const sums = new Float64Array(HOURS_PER_YEAR)
  const counts = new Uint16Array(HOURS_PER_YEAR)
  year.hourOf.forEach((hour, row) => {
    const value = values[row] ?? Number.NaN
    if (hour === null || Number.isNaN(value)) return
    sums[hour] = (sums[hour] ?? 0) + value
    counts[hour] = (counts[hour] ?? 0) + 1
  })
  return sums.map((sum, hour) => {
    const known = counts[hour] ?? 0
    return known === 0 || known * 2 < year.rowsAnHour ? Number.NaN : sum / known
  })
}
