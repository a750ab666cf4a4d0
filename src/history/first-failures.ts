import { cumulativeHazard } from '../numerics/lifetime.ts'
import type { Stream } from '../numerics/streams.ts'
import type { UnitTruth } from './unit-truth.ts'

/** The original units of a population that fail before the horizon, soonest first within each group. */
export interface FirstFailure {
  /** Years after the start; Infinity: not before the horizon (only where planned replacement needs every unit). */
  readonly at: number
  /** Whether a bad batch hit the unit. */
  readonly hit: boolean
  /** Number of the unit within its group; keys its stream. */
  readonly rank: number
}

/**
 * Draws the first failures of all original units before the horizon (M1, M2, M4). The cost grows with the failures,
 * not with the units: cumulative hazards of the k-th unit to fail are E(k) = E(k−1) + Exp/(n−k+1).
 *
 * @param unit - the population
 * @param struck - whether a bad batch struck the model in this draw
 * @param horizonYears - years
 * @param everyUnit - also list the units that do not fail, at Infinity (M6)
 * @param stream - the population's stream of the draw
 * @param out - cleared and filled: units hit by the batch first, each group soonest first
 * @source order statistics of exponentials: Rényi (1953), On the theory of order statistics (recalled)
 */
export function drawFirstFailures(
  unit: UnitTruth,
  struck: boolean,
  horizonYears: number,
  everyUnit: boolean,
  stream: Stream,
  out: FirstFailure[],
): void {
  if (out.length > 0) out.length = 0
  const batch = struck ? unit.batch : null
  let hits = 0
  if (batch !== null) {
    hits = countHits(unit.count, hitShare(unit, batch.affects, batch.lifeTimes), stream)
    drawGroup(unit, hits, batch.lifeTimes, true, horizonYears, everyUnit, stream, out)
  }
  drawGroup(unit, unit.count - hits, 1, false, horizonYears, everyUnit, stream, out)
}

/**
 * Share of surviving original units that a bad batch hit, given that it struck their model (M2).
 * h·S(a₀/f)^m / (h·S(a₀/f)^m + (1−h)·S(a₀)^m)
 *
 * @param unit - the population
 * @param affects - h, [0, 1]
 * @param lifeTimes - f, > 0
 * @returns share, [0, 1]; h for new units
 */
export function hitShare(unit: UnitTruth, affects: number, lifeTimes: number): number {
  if (unit.ageYears === 0 || affects === 0 || affects === 1) return affects
  const hit = cumulativeHazard(unit.modes, unit.ageYears / lifeTimes)
  const spared = cumulativeHazard(unit.modes, unit.ageYears)
  const odds = (affects / (1 - affects)) * Math.exp(-unit.multiplier * (hit - spared))
  return odds === Infinity ? 1 : odds / (1 + odds)
}

function drawGroup(
  unit: UnitTruth,
  count: number,
  lifeTimes: number,
  hit: boolean,
  horizonYears: number,
  everyUnit: boolean,
  stream: Stream,
  out: FirstFailure[],
): void {
  if (count === 0) return
  const start = hit ? cumulativeHazard(unit.modes, unit.ageYears / lifeTimes) : unit.hazardAtStart
  const end = hit ? cumulativeHazard(unit.modes, (unit.ageYears + horizonYears) / lifeTimes) : unit.hazardAtHorizon
  const most = unit.multiplier * (end - start)
  let exponential = 0
  for (let rank = 0; rank < count; rank++) {
    exponential += stream.exponential() / (count - rank)
    if (exponential > most) {
      if (everyUnit) for (let left = rank; left < count; left++) out.push({ at: Infinity, hit, rank: left })
      return
    }
    const age = lifeTimes * unit.ages.at(start + exponential / unit.multiplier)
    // rounding may put a failure a hair beyond its bounds
    out.push({ at: Math.min(Math.max(age - unit.ageYears, 0), horizonYears), hit, rank })
  }
}

/** Binomial count by skipping from hit to hit: the cost grows with the hits. */
function countHits(count: number, share: number, stream: Stream): number {
  if (share <= 0) return 0
  if (share >= 1) return count
  const logSpared = Math.log1p(-share)
  let hits = 0
  let at = Math.floor(Math.log(stream.uniform()) / logSpared)
  while (at < count) {
    hits++
    at += 1 + Math.floor(Math.log(stream.uniform()) / logSpared)
  }
  return hits
}
