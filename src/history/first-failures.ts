import { FIRST_ROOM } from '../numerics/first-room.ts'
import { cumulativeHazard } from '../numerics/lives/competing-risks.ts'
import { ReusableStream, type Stream } from '../numerics/random/streams.ts'
import type { History, Starts } from './history.ts'
import type { UnitParameters } from './parameters.ts'
import { PLANNED, type Rows } from './rows.ts'
import { dealStrings } from './strings.ts'

const stream = new ReusableStream()

/** Units that fail before the horizon, or are replaced as planned; memory that is reused. */
class Listed {
  n = 0
  lane = new Int32Array(FIRST_ROOM)
  /** Place among the units of its group, soonest first. */
  rank = new Int32Array(FIRST_ROOM)
  hit = new Uint8Array(FIRST_ROOM)
  /** 1 if it outlives the horizon, so that only its planned replacement is of interest. */
  outlives = new Uint8Array(FIRST_ROOM)
  /** Cumulative hazard at the failure, then the age, years. */
  age = new Float64Array(FIRST_ROOM)

  add(lane: number, rank: number, hit: number, level: number, outlives: number): void {
    const i = this.n++
    if (i >= this.lane.length) this.#grow()
    this.lane[i] = lane
    this.rank[i] = rank
    this.hit[i] = hit
    this.outlives[i] = outlives
    this.age[i] = level
  }

  #grow(): void {
    const { lane, rank, hit, outlives, age } = this
    const room = 2 * lane.length
    this.lane = new Int32Array(room)
    this.rank = new Int32Array(room)
    this.hit = new Uint8Array(room)
    this.outlives = new Uint8Array(room)
    this.age = new Float64Array(room)
    this.lane.set(lane)
    this.rank.set(rank)
    this.hit.set(hit)
    this.outlives.set(outlives)
    this.age.set(age)
  }
}

const listed = new Listed()

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
export function appendFirstFailures(unit: UnitParameters, history: History, horizonYears: number): void {
  const rows = history.rows[unit.place]
  const starts = history.starts[unit.place]
  if (rows === undefined || starts === undefined) return
  listUnits(unit, history, starts, horizonYears)
  unit.ages.toAges(listed.age, listed.n)
  appendListed(unit, history, starts, horizonYears, rows)
  if (unit.strings > 0) dealLanes(unit, history, starts, rows)
}

function listUnits(unit: UnitParameters, history: History, starts: Starts, horizonYears: number): void {
  const struck = unit.batch === null ? undefined : history.struck[unit.model]
  const { keyHigh, keyLow, hazardAtStart, hazardAtHorizon, ageYears } = starts
  const { draw } = history
  listed.n = 0
  for (let lane = 0; lane < history.n; lane++) {
    const number = draw[lane] as number // filled for every lane, as are the starts
    stream.openWords(keyHigh[lane] as number, keyLow[lane] as number, number, 0)
    const hits = struck?.[lane] === 1 ? hitsOf(unit, ageYears[lane] as number, stream) : 0
    let lead = unit.even === null ? stream.uniform() : unit.even.at(number)
    if (hits > 0) {
      listHit(unit, hits, lead, lane, ageYears[lane] as number, horizonYears)
      lead = unit.count > hits ? stream.uniform() : 0
    }
    if (unit.count > hits) {
      const start = hazardAtStart[lane] as number
      const most = unit.multiplier * ((hazardAtHorizon[lane] as number) - start)
      const planned = unit.replaceAtAgeYears - (ageYears[lane] as number) < horizonYears
      listGroup(unit.multiplier, unit.count - hits, 0, start, most, planned, lead, lane)
    }
  }
}

/** Units that a bad batch hit: their life is shortened. */
function listHit(
  unit: UnitParameters,
  hits: number,
  lead: number,
  lane: number,
  ageYears: number,
  horizonYears: number,
): void {
  const lifeTimes = unit.batch?.lifeTimes ?? 1
  const start = cumulativeHazard(unit.modes, ageYears / lifeTimes)
  const end = cumulativeHazard(unit.modes, (ageYears + horizonYears) / lifeTimes)
  const planned = unit.replaceAtAgeYears - ageYears < horizonYears
  listGroup(unit.multiplier, hits, 1, start, unit.multiplier * (end - start), planned, lead, lane)
}

/**
 * The units of a group, soonest first; `lead` is the uniform number of the first, `most` the exponential at the horizon.
 * Once one outlives the horizon, so do those after it: they are listed only where all are replaced as planned.
 */
function listGroup(
  multiplier: number,
  count: number,
  hit: number,
  start: number,
  most: number,
  planned: boolean,
  lead: number,
  lane: number,
): void {
  let exponential = -Math.log(lead) / count
  let rank = 0
  while (exponential <= most) {
    listed.add(lane, rank, hit, start + exponential / multiplier, 0)
    if (++rank === count) return
    exponential += stream.exponential() / (count - rank)
  }
  if (planned) for (; rank < count; rank++) listed.add(lane, rank, hit, 0, 1)
}

function appendListed(unit: UnitParameters, history: History, starts: Starts, horizonYears: number, rows: Rows): void {
  const { n, lane: laneOf, rank, hit, outlives, age } = listed
  const lifeTimes = unit.batch?.lifeTimes ?? 1
  const { replaceAtAgeYears } = unit
  rows.reserve(n)
  const { lane, before, failedAt, fittedAt, streams, serviceAge } = rows
  const { keyHigh, keyLow, ageYears } = starts
  const { draw } = history
  let row = 0
  for (let i = 0; i < n; i++) {
    const own = laneOf[i] as number // listed, and the lane has its starts
    const struck = hit[i] as number
    const startAge = ageYears[own] as number
    // rounding may put a failure slightly before the start
    const lives = Math.max((struck === 1 ? lifeTimes : 1) * (age[i] as number) - startAge, 0)
    const failsAt = outlives[i] === 1 ? Infinity : lives
    const plannedAt = Math.max(replaceAtAgeYears - startAge, 0)
    const at = Math.min(failsAt, plannedAt)
    if (at >= horizonYears) continue
    lane[row] = own
    before[row] = -1
    failedAt[row] = at
    fittedAt[row] = 0
    serviceAge[row] = startAge
    rows.hit[row] = struck
    const part = 1 + 2 * (rank[i] as number) + struck
    streams.open(row, keyHigh[own] as number, keyLow[own] as number, draw[own] as number, part)
    // M6: a unit that reaches its planned age before it fails is replaced then; `outlives` holds this until the rows
    // exist
    outlives[row] = plannedAt <= failsAt ? 1 : 0
    row++
  }
  rows.appendTo(row)
  rows.string.fill(unit.strings - 1, 0, row)
  rows.repairs.fill(0, 0, row)
  if (replaceAtAgeYears === Infinity) return
  for (let i = 0; i < row; i++) if (outlives[i] === 1) rows.action[i] = PLANNED
}

/** Assigns strings, lifetime after lifetime (O4). */
function dealLanes(unit: UnitParameters, { draw }: History, starts: Starts, rows: Rows): void {
  for (let from = 0; from < rows.n; ) {
    const lane = rows.lane[from] as number // the row is there
    let to = from + 1
    while (to < rows.n && rows.lane[to] === lane) to++
    dealStrings(unit, starts, rows, draw[lane] as number, lane, from, to)
    from = to
  }
}

function hitsOf(unit: UnitParameters, ageYears: number, numbers: Stream): number {
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
  unit: Pick<UnitParameters, 'modes' | 'multiplier'>,
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
