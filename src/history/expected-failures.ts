import { cumulativeHazard } from '../numerics/lives/competing-risks.ts'
import { sumOf } from '../numerics/sum.ts'
import { hitShare } from './first-failures.ts'
import type { UnitParameters } from './parameters.ts'

/** Stretches of the horizon over which failures are compared with their expected number (X3). */
export interface Stretches {
  readonly horizonYears: number
  /** Length of each, years; the last may be shorter. */
  readonly years: number
  readonly count: number
  /** Whether delays and seasons of failures are compared too. */
  readonly finely: boolean
}

/** Columns of a population in addition to its stretches: delays, and two of the season. */
const FINE_COLUMNS = 3

/**
 * How many figures of each population are compared with their expected value.
 *
 * @param stretches - of the horizon
 */
export function comparedColumns({ count, finely }: Stretches): number {
  return count + (finely ? FINE_COLUMNS : 0)
}

/**
 * Expected first failures of an original population, by stretch: one life a unit (M1, M2, M4).
 * n·(S(start of the stretch) − S(its end)), S given that all have survived so far
 *
 * @param unit - the population
 * @param stretches - of the horizon
 * @param struck - whether a bad batch struck its model
 * @param out - filled from `at`, one entry a stretch
 * @param at - place of the first stretch
 */
export function expectedFirst(
  unit: UnitParameters,
  { horizonYears, years, count }: Stretches,
  struck: boolean,
  out: Float64Array,
  at: number,
): void {
  const originalFailedBy = originalLife(unit, struck)
  // a unit that reaches its planned age first is replaced then (M6)
  const planned = Math.max(unit.replaceAtAgeYears - unit.ageYears, 0)
  let before = 0
  for (let stretch = 0; stretch < count; stretch++) {
    const failed = originalFailedBy(Math.min(years * (stretch + 1), horizonYears, planned))
    out[at + stretch] = unit.count * (failed - before)
    before = failed
  }
}

/**
 * The chance that an original unit has failed by a moment, where none is replaced as planned (M1, M2, M4).
 *
 * @param unit - its population
 * @param struck - whether a bad batch struck its model
 * @returns a function of the moment, years
 */
export function originalLife(unit: UnitParameters, struck: boolean): (years: number) => number {
  const { batch, ageYears } = unit
  const hit = batch === null || !struck ? 0 : hitShare(unit, batch.affects, batch.lifeTimes, ageYears)
  const lifeTimes = batch?.lifeTimes ?? 1
  return years =>
    (hit === 1 ? 0 : (1 - hit) * failedBy(unit, ageYears, years, 1, 0)) +
    (hit === 0 ? 0 : hit * failedBy(unit, ageYears, years, lifeTimes, 0))
}

/**
 * How many failures each compared figure is about: expected first failures of the stretch; of all stretches for delays
 * and seasons.
 *
 * @param units - populations of the option, in order of their place
 * @param stretches - of the horizon
 * @returns populations × `comparedColumns`, row-major
 */
export function comparedFailures(units: readonly UnitParameters[], stretches: Stretches): Float64Array {
  const columns = comparedColumns(stretches)
  const { count } = stretches
  const failures = new Float64Array(units.length * columns)
  for (const unit of units) {
    const at = unit.place * columns
    expectedFirst(unit, stretches, false, failures, at)
    failures.fill(sumOf(failures.subarray(at, at + count)), at + count, at + columns)
  }
  return failures
}

/**
 * Chance that a unit of some virtual age fails within some years (M1, M3, M4): 1 − exp(−m·(H((a+t)/f) − H(a/f))).
 *
 * @param unit - its population
 * @param age - a, years, >= 0
 * @param years - t, >= 0
 * @param lifeTimes - f, > 0: not 1 where a bad batch hit it
 * @param cured - modes it can no longer fail by
 */
export function failedBy(unit: UnitParameters, age: number, years: number, lifeTimes: number, cured: number): number {
  const lived = age === 0 ? 0 : cumulativeHazard(unit.modes, age / lifeTimes, cured)
  return -Math.expm1(-unit.multiplier * (cumulativeHazard(unit.modes, (age + years) / lifeTimes, cured) - lived))
}
