import { cumulativeHazard } from '../numerics/lives/competing-risks.ts'
import { hitShare } from './first-failures.ts'
import type { History } from './history.ts'
import type { OptionParameters, UnitParameters } from './parameters.ts'
import { PLANNED, REPAIRED, type Rows } from './rows.ts'

/** Stretches of the horizon over which failures are compared with their expected number (X3). */
export interface Stretches {
  readonly horizonYears: number
  /** Length of each, years; the last may be shorter. */
  readonly years: number
  readonly count: number
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
  const { batch, ageYears } = unit
  const hit = batch === null || !struck ? 0 : hitShare(unit, batch.affects, batch.lifeTimes, ageYears)
  const lifeTimes = batch?.lifeTimes ?? 1
  // a unit that reaches its planned age first is replaced then (M6)
  const planned = Math.max(unit.replaceAtAgeYears - ageYears, 0)
  let before = 0
  for (let stretch = 0; stretch < count; stretch++) {
    const end = Math.min(years * (stretch + 1), horizonYears, planned)
    const failed =
      (hit === 1 ? 0 : (1 - hit) * failedBy(unit, ageYears, end, 1, 0)) +
      (hit === 0 ? 0 : hit * failedBy(unit, ageYears, end, lifeTimes, 0))
    out[at + stretch] = unit.count * (failed - before)
    before = failed
  }
}

/**
 * Failures less their expected number, by population and stretch, for all lifetimes being played. Each life is compared
 * with the chance that it ends by failure in a stretch, given when it began; so the expected value of every sum is
 * exactly 0, whatever detection, visits and terms do (X3).
 *
 * @param parameters - the option
 * @param history - played
 * @param stretches - of its horizon
 * @param out - added to: populations × stretches, row-major, lifetime after lifetime
 * @param apart - distance from a lifetime to the next; 0: all lifetimes are summed
 */
export function countUnexpected(
  parameters: OptionParameters,
  history: History,
  stretches: Stretches,
  out: Float64Array,
  apart = 0,
): void {
  const { count } = stretches
  const expected = [new Float64Array(count), new Float64Array(count)] as const
  for (const unit of parameters.units) {
    const at = unit.place * count
    const struck = unit.batch === null ? undefined : history.struck[unit.model]
    expectedFirst(unit, stretches, false, expected[0], 0)
    if (struck !== undefined) expectedFirst(unit, stretches, true, expected[1], 0)
    for (let lane = 0; lane < history.n; lane++) {
      const first = struck?.[lane] === 1 ? expected[1] : expected[0]
      const from = lane * apart + at
      for (let stretch = 0; stretch < count; stretch++) add(out, from + stretch, -(first[stretch] as number)) // filled
    }
    const rows = history.rows[unit.place]
    if (rows !== undefined) countRows(unit, rows, stretches, at, out, apart)
  }
}

/** The failures of a population, less what is expected of the lives that begin when its slots are back. */
function countRows(
  unit: UnitParameters,
  rows: Rows,
  { horizonYears, years, count }: Stretches,
  at: number,
  out: Float64Array,
  apart: number,
): void {
  const last = count - 1
  const plain = unit.repairRule === null
  for (let row = 0; row < rows.n; row++) {
    const from = (rows.lane[row] as number) * apart + at // the row is there
    if (rows.action[row] !== PLANNED) {
      add(out, from + Math.min(Math.floor((rows.failedAt[row] as number) / years), last), 1)
    }
    const begins = rows.returnedAt[row] as number
    if (begins >= horizonYears) continue
    const repaired = !plain && rows.action[row] === REPAIRED
    const lifeTimes = repaired && rows.hit[row] === 1 ? (unit.batch?.lifeTimes ?? 1) : 1
    const age = repaired ? (rows.ageAfter[row] as number) : 0
    const cured = repaired ? (rows.curedAfter[row] as number) : 0
    const planned = Math.max(unit.replaceAtAgeYears - (repaired ? serviceAge(rows, row) : 0), 0)
    let before = 0
    for (let stretch = Math.min(Math.floor(begins / years), last); stretch <= last; stretch++) {
      const lived = Math.min(years * (stretch + 1), horizonYears) - begins
      const failed = failedBy(unit, age, Math.min(lived, planned), lifeTimes, cured)
      add(out, from + stretch, before - failed)
      before = failed
    }
  }
}

/** Age in service of a repaired unit when it is back (M6). */
function serviceAge(rows: Rows, row: number): number {
  const before = rows.before[row] as number // the row is there
  const startedAt = before < 0 ? 0 : (rows.returnedAt[before] as number)
  return (rows.serviceAge[row] as number) + (rows.failedAt[row] as number) - startedAt
}

/** Chance that a unit of some virtual age fails within some years (M1, M3, M4): 1 − exp(−m·(H((a+t)/f) − H(a/f))). */
function failedBy(unit: UnitParameters, age: number, years: number, lifeTimes: number, cured: number): number {
  const lived = age === 0 ? 0 : hazardOf(unit, age / lifeTimes, cured)
  return -Math.expm1(-unit.multiplier * (hazardOf(unit, (age + years) / lifeTimes, cured) - lived))
}

function hazardOf({ ages, modes }: UnitParameters, ageYears: number, cured: number): number {
  return cured === 0 ? ages.hazardAt(ageYears) : cumulativeHazard(modes, ageYears, cured)
}

function add(sums: Float64Array, i: number, amount: number): void {
  sums[i] = (sums[i] as number) + amount // every stretch has its entry
}
