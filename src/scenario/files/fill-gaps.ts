import { sumOf } from '../../numerics/sum.ts'
import { HOURS_PER_YEAR } from '../../units.ts'

/** Most hours of a year that are filled, and the longest gap: judgement, 2 % of a year and three days. */
const MOST_FILLED_HOURS = 175
const LONGEST_FILLED_HOURS = 72

/** Days on either side that are looked at for the same hour; ours. */
const DAYS_AROUND = 7

/** A year after its gaps were filled. */
interface Filled {
  readonly hours: Float64Array
  /** Hours that were missing. */
  readonly missing: number
  /** The longest gap, hours. */
  readonly longest: number
}

/**
 * A year whose few gaps are filled with the mean of the same hour of the nearest days before and after.
 *
 * @param hours - 8,760 values from 1 January; NaN: not known
 * @param what - file, and column where there are several, for the note
 * @returns the year and what to say of it; or, where too much is missing, what is wrong in words
 */
export function withoutGaps(hours: Float64Array, what: string): { hours: Float64Array; notes: string[] } | string {
  const { hours: filled, missing, longest } = fillGaps(hours)
  if (missing > MOST_FILLED_HOURS || longest > LONGEST_FILLED_HOURS || filled.some(Number.isNaN))
    return `${missing} hours of the year are missing, ${longest} of them in a row; at most ${MOST_FILLED_HOURS} are filled from the days around, ${LONGEST_FILLED_HOURS} in a row. Take a file of another year`
  if (missing === 0) return { hours: filled, notes: [] }
  const said = missing === 1 ? '1 hour is missing and is' : `${missing} hours are missing and are`
  return { hours: filled, notes: [`${what}: ${said} filled from the days around.`] }
}

/** Hours with no known day within a week stay NaN. */
function fillGaps(hours: Float64Array): Filled {
  const filled = Float64Array.from(hours)
  let missing = 0
  let longest = 0
  let run = 0
  hours.forEach((value, hour) => {
    run = Number.isNaN(value) ? run + 1 : 0
    longest = Math.max(longest, run)
    if (!Number.isNaN(value)) return
    missing++
    const around = [nearestDay(hours, hour, -24), nearestDay(hours, hour, 24)].filter(known => !Number.isNaN(known))
    filled[hour] = sumOf(around) / around.length
  })
  return { hours: filled, missing, longest }
}

function nearestDay(hours: Float64Array, hour: number, step: number): number {
  for (let days = 1; days <= DAYS_AROUND; days++) {
    const there = hours[(((hour + days * step) % HOURS_PER_YEAR) + HOURS_PER_YEAR) % HOURS_PER_YEAR]
    if (there !== undefined && !Number.isNaN(there)) return there
  }
  return Number.NaN
}
