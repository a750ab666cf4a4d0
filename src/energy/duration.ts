import { sumOf } from '../numerics/sum.ts'
import type { PowerOnItsWay, YearSteps } from './harvest/delivery.ts'

/** How many hours of a year an option gives at least some power; all of year 0. */
export interface PowerDuration {
  /** Hours of the year, ascending from 0. */
  readonly hours: readonly number[]
  /** Power at the inverters that is reached or passed for so many hours: without their limit, and with it; kW. */
  readonly unlimitedKw: readonly number[]
  readonly limitedKw: readonly number[]
  /** AC rating of all inverters together, kW; null where it is not given. */
  readonly ratingKw: number | null
}

const POINTS = 60

/**
 * The hours of a year sorted by power (E2): where the two curves part, the inverters clip.
 *
 * @param steps - hours of each step
 * @param on - the option's power on its way
 * @param ratingKw - AC rating of all inverters together
 * @returns 61 points from no hours to all hours with sun
 */
export function powerDuration(steps: YearSteps, on: PowerOnItsWay, ratingKw: number | null): PowerDuration {
  const all = sumOf(steps.hours)
  const hours = Array.from({ length: POINTS + 1 }, (_, i) => (all * i) / POINTS)
  return {
    hours,
    unlimitedKw: sortedAt(on.unlimitedKw, steps, hours),
    limitedKw: sortedAt(on.limitedKw, steps, hours),
    ratingKw,
  }
}

function sortedAt(kw: Float64Array, steps: YearSteps, hours: readonly number[]): number[] {
  const order = Uint32Array.from({ length: kw.length }, (_, step) => step)
  order.sort((a, b) => (kw[b] ?? 0) - (kw[a] ?? 0))
  const hoursOf = (place: number): number => steps.hours[order[place] ?? 0] ?? 0
  let step = 0
  let passed = hoursOf(0)
  return hours.map(wanted => {
    while (step < order.length - 1 && passed < wanted) {
      step++
      passed += hoursOf(step)
    }
    return kw[order[step] ?? 0] ?? 0
  })
}
