import { cumulativeHazard } from '../numerics/lifetime.ts'
import type { Stream } from '../numerics/streams.ts'
import type { UnitTruth } from './unit-truth.ts'

/** A hair under 1: where rounding could decide, the exact comparison does. */
const CLEARLY = 1 - 1e-12

/** The original units of a population that fail before the horizon, soonest first within each group. */
export class FirstFailures {
  /** How many. */
  n = 0
  /** Years after the start; Infinity: not before the horizon (only where planned replacement needs every unit). */
  at = new Float64Array(64)
  /** 1 if a bad batch hit the unit. */
  hit = new Uint8Array(64)
  /** Number of the unit within its group; keys its stream. */
  rank = new Int32Array(64)

  /** Adds a unit. */
  add(at: number, hit: boolean, rank: number): void {
    const i = this.n++
    if (i >= this.at.length) this.#grow()
    this.at[i] = at
    this.hit[i] = hit ? 1 : 0
    this.rank[i] = rank
  }

  #grow(): void {
    const [at, hit, rank] = [this.at, this.hit, this.rank]
    this.at = new Float64Array(2 * at.length)
    this.hit = new Uint8Array(2 * at.length)
    this.rank = new Int32Array(2 * at.length)
    this.at.set(at)
    this.hit.set(hit)
    this.rank.set(rank)
  }
}

/**
 * Which stream of the draw belongs to the slot of a failing unit.
 *
 * @param firsts - from `drawFirstFailures`
 * @param i - which of them
 * @returns part of the stream; 0 is the population's own
 */
export function partOf(firsts: FirstFailures, i: number): number {
  return 1 + 2 * (firsts.rank[i] ?? 0) + (firsts.hit[i] ?? 0)
}

/**
 * Draws the first failures of all original units before the horizon (M1, M2, M4). The cost grows with the failures,
 * not with the units: cumulative hazards of the k-th unit to fail are E(k) = E(k−1) + Exp/(n−k+1). Most often nothing
 * fails, and then one comparison says so.
 *
 * @param unit - the population
 * @param draw - number of the draw over the whole run
 * @param struck - whether a bad batch struck the model in this draw
 * @param horizonYears - years
 * @param everyUnit - also list the units that do not fail, at Infinity (M6)
 * @param stream - the population's stream of the draw, at its beginning
 * @param out - emptied and filled: units hit by the batch first, each group soonest first
 * @source order statistics of exponentials: Rényi (1953), On the theory of order statistics (recalled)
 */
export function drawFirstFailures(
  unit: UnitTruth,
  draw: number,
  struck: boolean,
  horizonYears: number,
  everyUnit: boolean,
  stream: Stream,
  out: FirstFailures,
): void {
  out.n = 0
  const batch = struck ? unit.batch : null
  const hits = batch === null ? 0 : countHits(unit.count, hitShare(unit, batch.affects, batch.lifeTimes), stream)
  const lead = unit.even === null ? stream.uniform() : unit.even.at(draw)
  if (batch !== null && hits > 0) {
    drawGroup(unit, hits, batch.lifeTimes, true, lead, horizonYears, everyUnit, stream, out)
    if (unit.count > hits)
      drawGroup(unit, unit.count - hits, 1, false, stream.uniform(), horizonYears, everyUnit, stream, out)
  } else if (everyUnit || lead >= unit.noneFails * CLEARLY) {
    drawGroup(unit, unit.count, 1, false, lead, horizonYears, everyUnit, stream, out)
  }
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

/** The units of a group, soonest first; `lead` is the uniform number of the first of them. */
function drawGroup(
  unit: UnitTruth,
  count: number,
  lifeTimes: number,
  hit: boolean,
  lead: number,
  horizonYears: number,
  everyUnit: boolean,
  stream: Stream,
  out: FirstFailures,
): void {
  const start = hit ? cumulativeHazard(unit.modes, unit.ageYears / lifeTimes) : unit.hazardAtStart
  const end = hit ? cumulativeHazard(unit.modes, (unit.ageYears + horizonYears) / lifeTimes) : unit.hazardAtHorizon
  const most = unit.multiplier * (end - start)
  let exponential = -Math.log(lead) / count
  for (let rank = 0; rank < count; rank++) {
    if (rank > 0) exponential += stream.exponential() / (count - rank)
    if (exponential > most) {
      if (everyUnit) for (let left = rank; left < count; left++) out.add(Infinity, hit, left)
      return
    }
    const age = lifeTimes * unit.ages.at(start + exponential / unit.multiplier)
    // rounding may put a failure a hair beyond its bounds
    out.add(Math.min(Math.max(age - unit.ageYears, 0), horizonYears), hit, rank)
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
