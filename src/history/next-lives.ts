/**
 * What a failure does to its unit, and when the slot fails next (M3–M6).
 */
import { cumulativeHazard, modeAtFailure } from '../numerics/lives/competing-risks.ts'
import type { Starts } from './history.ts'
import type { UnitParameters } from './parameters.ts'
import { MODE, NUMBERS, PLANNED, REPAIRED, type Rows, STRING } from './rows.ts'

/**
 * Decides for some failures whether the unit is repaired or replaced, and whether its string goes down (M3, O4).
 *
 * @param unit - the population
 * @param rows - its rows, numbers drawn
 * @param starts - of the population
 * @param from - first row
 * @param to - row after the last
 */
export function settle(unit: UnitParameters, rows: Rows, starts: Starts, from: number, to: number): void {
  if (unit.strings > 0 && unit.takesStringDown > 0) {
    for (let row = from; row < to; row++) {
      if (rows.action[row] !== PLANNED && (rows.numbers[NUMBERS * row + STRING] as number) < unit.takesStringDown) {
        rows.takesString[row] = 1
      }
    }
  }
  if (unit.repairRule === null) return
  for (let row = from; row < to; row++) {
    if (rows.action[row] !== PLANNED && (rows.repairs[row] as number) < unit.repairRule.atMost) {
      repair(unit, unit.repairRule.renews, rows, starts, row)
    }
  }
}

function repair(unit: UnitParameters, renews: number, rows: Rows, starts: Starts, row: number): void {
  const before = rows.before[row] as number
  const original = before < 0
  const startedAt = original ? 0 : (rows.returnedAt[before] as number)
  const virtualAge = original
    ? (starts.ageYears[rows.lane[row] as number] as number)
    : (rows.ageAfter[before] as number)
  const cured = original ? 0 : (rows.curedAfter[before] as number)
  const age = virtualAge + (rows.failedAt[row] as number) - startedAt
  const lifeTimes = rows.hit[row] === 1 ? (unit.batch?.lifeTimes ?? 1) : 1
  const mode =
    unit.modes.length === 1
      ? 0
      : modeAtFailure(unit.modes, age / lifeTimes, cured, rows.numbers[NUMBERS * row + MODE] as number)
  rows.action[row] = REPAIRED
  rows.mode[row] = mode
  rows.ageAfter[row] = (1 - renews) * age
  const limited = (unit.modes[mode]?.susceptible ?? 1) < 1
  rows.curedAfter[row] = limited ? cured | (1 << mode) : cured
}

/**
 * Appends the next failure, or planned replacement, of the slots of some rows that are back in service (M3, M5, M6).
 *
 * @param unit - the population
 * @param rows - its rows, returned
 * @param from - first row
 * @param to - row after the last
 * @param horizonYears - later events are ignored
 */
export function appendNextLives(
  unit: UnitParameters,
  rows: Rows,
  from: number,
  to: number,
  horizonYears: number,
): void {
  if (unit.repairRule === null && unit.replaceAtAgeYears === Infinity)
    appendNewUnits(unit, rows, from, to, horizonYears)
  else for (let row = from; row < to; row++) appendAfter(unit, rows, row, horizonYears)
}

/** Rows whose slot may fail again, and the age at which it does; memory that is reused. */
let goesOn = new Int32Array(64)
let ages = new Float64Array(64)

/** Every failure was replaced: the next life is that of a new unit. */
function appendNewUnits(unit: UnitParameters, rows: Rows, from: number, to: number, horizonYears: number): void {
  if (goesOn.length < to - from) {
    goesOn = new Int32Array(2 * (to - from))
    ages = new Float64Array(2 * (to - from))
  }
  const n = listNewUnits(unit, rows, from, to, horizonYears)
  unit.ages.toAges(ages, n)
  rows.reserve(rows.n + n)
  const { lane, before, failedAt, fittedAt, returnedAt, hit } = rows
  let next = rows.n
  for (let i = 0; i < n; i++) {
    const row = goesOn[i] as number // listed
    const at = returnedAt[row] as number
    const failsAt = at + (ages[i] as number)
    if (failsAt >= horizonYears) continue
    lane[next] = lane[row] as number
    before[next] = row
    failedAt[next] = failsAt
    fittedAt[next] = at
    hit[next] = 0
    next++
  }
  rows.appendTo(next)
}

/** Lists the rows whose new unit may fail before the horizon, with the cumulative hazard of each at failure. */
function listNewUnits(
  { multiplier, hazardOfNewUnit }: UnitParameters,
  { returnedAt, exponential }: Rows,
  from: number,
  to: number,
  horizonYears: number,
): number {
  let n = 0
  for (let row = from; row < to; row++) {
    const further = (exponential[row] as number) / multiplier // the row is there
    if ((returnedAt[row] as number) >= horizonYears || further > hazardOfNewUnit) continue
    goesOn[n] = row
    ages[n++] = further
  }
  return n
}

/** Appends the next event of one slot, whether its unit was repaired or replaced. */
function appendAfter(unit: UnitParameters, rows: Rows, row: number, horizonYears: number): void {
  const at = rows.returnedAt[row] as number
  if (at >= horizonYears) return
  const repaired = rows.action[row] === REPAIRED
  const virtualAge = rows.ageAfter[row] as number
  const cured = rows.curedAfter[row] as number
  const hit = repaired ? (rows.hit[row] as number) : 0
  const further = (rows.exponential[row] as number) / unit.multiplier
  let failedAt = Infinity
  if (virtualAge === 0 && cured === 0 && hit === 0) {
    if (further <= unit.hazardOfNewUnit) failedAt = at + unit.ages.at(further)
  } else {
    const lifeTimes = hit === 1 ? (unit.batch?.lifeTimes ?? 1) : 1
    const lived = cumulativeHazard(unit.modes, virtualAge / lifeTimes, cured)
    failedAt = at + Math.max(lifeTimes * unit.ages.at(lived + further, cured) - virtualAge, 0)
  }
  const before = rows.before[row] as number
  const startedAt = before < 0 ? 0 : (rows.returnedAt[before] as number)
  const serviceAge = repaired ? (rows.serviceAge[row] as number) + (rows.failedAt[row] as number) - startedAt : 0
  // M6: a unit that reaches its planned age before it fails is replaced then
  const plannedAt = at + Math.max(unit.replaceAtAgeYears - serviceAge, 0)
  const planned = plannedAt <= failedAt && plannedAt !== Infinity
  const nextAt = planned ? plannedAt : failedAt
  if (nextAt >= horizonYears) return
  const next = rows.append(rows.lane[row] as number, row, nextAt, repaired ? (rows.fittedAt[row] as number) : at)
  rows.hit[next] = hit
  rows.repairs[next] = repaired ? (rows.repairs[row] as number) + 1 : 0
  rows.serviceAge[next] = serviceAge
  if (planned) rows.action[next] = PLANNED
}
