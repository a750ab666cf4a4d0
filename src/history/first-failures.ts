import { cumulativeHazard } from '../numerics/lifetime.ts'
import { ReusableStream, type Stream } from '../numerics/streams.ts'
import type { History, Starts } from './history.ts'
import { PLANNED, type Rows } from './rows.ts'
import { dealStrings } from './strings.ts'
import type { UnitTruth } from './unit-truth.ts'

const stream = new ReusableStream()

/**
 * Appends the first failures of all original units before the horizon, lifetime after lifetime (M1, M2, M4): units hit by
 * a bad batch first, each group soonest first. The cost grows with the failures, not with the units: cumulative hazards
 * of the k-th unit to fail are E(k) = E(k−1) + Exp/(n−k+1). Where units are replaced as planned before the horizon, every
 * unit has a row (M6).
 *
 * @param unit - the population
 * @param history - with its draws and starts; the population has no rows yet
 * @param horizonYears - years
 * @source order statistics of exponentials: Rényi (1953), On the theory of order statistics (recalled)
 */
export function appendFirstFailures(unit: UnitTruth, history: History, horizonYears: number): void {
  const rows = history.rows[unit.place]
  const starts = history.starts[unit.place]
  if (rows === undefined || starts === undefined) return
  const struck = unit.batch === null ? undefined : history.struck[unit.model]
  const { keyHigh, keyLow, hazardAtStart, hazardAtHorizon } = starts
  for (let lane = 0; lane < history.n; lane++) {
    const draw = history.draw[lane] as number // filled for every lane, as are the starts
    const first = rows.n
    stream.openWords(keyHigh[lane] as number, keyLow[lane] as number, draw, 0)
    const hits = struck?.[lane] === 1 ? hitsOf(unit, starts.ageYears[lane] as number, stream) : 0
    let lead = unit.even === null ? stream.uniform() : unit.even.at(draw)
    if (hits > 0) {
      appendHit(unit, hits, lead, starts, lane, draw, horizonYears, rows)
      lead = unit.count > hits ? stream.uniform() : 0
    }
    if (unit.count > hits) {
      const start = hazardAtStart[lane] as number
      const most = unit.multiplier * ((hazardAtHorizon[lane] as number) - start)
      appendGroup(unit, unit.count - hits, 0, start, most, lead, starts, lane, draw, horizonYears, rows)
    }
    if (unit.strings > 0 && rows.n > first) dealStrings(unit, starts, rows, draw, lane, first)
  }
}

/** Units that a bad batch hit: their life is shortened. */
function appendHit(
  unit: UnitTruth,
  hits: number,
  lead: number,
  starts: Starts,
  lane: number,
  draw: number,
  horizonYears: number,
  rows: Rows,
): void {
  const lifeTimes = unit.batch?.lifeTimes ?? 1
  const ageYears = starts.ageYears[lane] as number
  const start = cumulativeHazard(unit.modes, ageYears / lifeTimes)
  const end = cumulativeHazard(unit.modes, (ageYears + horizonYears) / lifeTimes)
  appendGroup(unit, hits, 1, start, unit.multiplier * (end - start), lead, starts, lane, draw, horizonYears, rows)
}

/** The units of a group, soonest first; `lead` is the uniform number of the first, `most` the exponential at the horizon. */
function appendGroup(
  unit: UnitTruth,
  count: number,
  hit: number,
  start: number,
  most: number,
  lead: number,
  starts: Starts,
  lane: number,
  draw: number,
  horizonYears: number,
  rows: Rows,
): void {
  const { multiplier, ages } = unit
  const lifeTimes = hit === 1 ? (unit.batch?.lifeTimes ?? 1) : 1
  const ageYears = starts.ageYears[lane] as number
  const plannedAt = Math.max(unit.replaceAtAgeYears - ageYears, 0)
  let exponential = -Math.log(lead) / count
  for (let rank = 0; rank < count; rank++) {
    if (rank > 0 && exponential !== Infinity) exponential += stream.exponential() / (count - rank)
    let failedAt = Infinity
    if (exponential <= most) {
      // rounding may put a failure a hair before the start
      failedAt = Math.max(lifeTimes * ages.at(start + exponential / multiplier) - ageYears, 0)
    }
    // once one of the group outlives the horizon, so do those after it
    if (failedAt >= horizonYears) exponential = Infinity
    // M6: a unit that reaches its planned age before it fails is replaced then
    const planned = plannedAt <= failedAt && plannedAt !== Infinity
    const at = planned ? plannedAt : failedAt
    if (at >= horizonYears) return
    const row = rows.append(lane, -1, at, 0)
    rows.streams.open(row, starts.keyHigh[lane] as number, starts.keyLow[lane] as number, draw, 1 + 2 * rank + hit)
    rows.string[row] = unit.strings - 1
    rows.hit[row] = hit
    rows.repairs[row] = 0
    rows.serviceAge[row] = ageYears
    if (planned) rows.action[row] = PLANNED
  }
}

function hitsOf(unit: UnitTruth, ageYears: number, numbers: Stream): number {
  const { batch } = unit
  return batch === null ? 0 : countHits(unit.count, hitShare(unit, batch.affects, batch.lifeTimes, ageYears), numbers)
}

/**
 * Share of surviving original units that a bad batch hit, given that it struck their model (M2).
 * h·S(a₀/f)^m / (h·S(a₀/f)^m + (1−h)·S(a₀)^m)
 *
 * @param unit - the population
 * @param affects - h, [0, 1]
 * @param lifeTimes - f, > 0
 * @param ageYears - a₀, age at the start
 * @returns share, [0, 1]; h for new units
 */
export function hitShare(
  unit: Pick<UnitTruth, 'modes' | 'multiplier'>,
  affects: number,
  lifeTimes: number,
  ageYears: number,
): number {
  if (ageYears === 0 || affects === 0 || affects === 1) return affects
  const hit = cumulativeHazard(unit.modes, ageYears / lifeTimes)
  const spared = cumulativeHazard(unit.modes, ageYears)
  const odds = (affects / (1 - affects)) * Math.exp(-unit.multiplier * (hit - spared))
  return odds === Infinity ? 1 : odds / (1 + odds)
}

/** Binomial count by skipping from hit to hit: the cost grows with the hits. */
function countHits(count: number, share: number, numbers: Stream): number {
  if (share <= 0) return 0
  if (share >= 1) return count
  const logSpared = Math.log1p(-share)
  let hits = 0
  let at = Math.floor(Math.log(numbers.uniform()) / logSpared)
  while (at < count) {
    hits++
    at += 1 + Math.floor(Math.log(numbers.uniform()) / logSpared)
  }
  return hits
}
