import { firstIndex } from '../../numerics/bisection.ts'

/** The watched time of one slot and the failures in it; ages of the slot, counted from when it was first filled. */
export interface SlotHistory {
  /** Stretches that were watched, in order, not overlapping. */
  readonly watched: readonly (readonly [from: number, to: number])[]
  /** Slot ages of failures, in order, each inside a stretch. */
  readonly failures: readonly number[]
  /** Equal histories. */
  readonly count: number
}

/** One step of the mean cumulative function. */
export interface MeanCumulativeStep {
  readonly age: number
  readonly slotsWatched: number
  readonly failures: number
  /** Mean number of failures a slot up to this age. */
  readonly mean: number
  /** Robust standard error: slots are independent, failures of one slot need not be. */
  readonly standardError: number
}

/**
 * How many failures a slot has had on average by each age, through all its replacements, without any model.
 * mean(t) = Σ ages <= t of failures / slots watched
 * variance(t) = Σ slots (Σ ages <= t of (own failures − failures/watched)/watched)²
 *
 * @param slots - the histories
 * @returns one step an age of failure, in rising order
 * @source Nelson (1988), J. Quality Technology 20, 24–35; robust error: Lawless & Nadeau (1995), Technometrics 37,
 *   158–168 (recalled)
 */
export function meanCumulative(slots: readonly SlotHistory[]): MeanCumulativeStep[] {
  const failuresAt = new Map<number, number>()
  for (const slot of slots) {
    for (const age of slot.failures) failuresAt.set(age, (failuresAt.get(age) ?? 0) + slot.count)
  }
  const ages = Float64Array.from(failuresAt.keys()).sort()
  const n = ages.length
  if (n === 0) return []
  // Watched at an age: from < age <= to.
  const watched = new Float64Array(n + 1)
  for (const slot of slots) {
    for (const [from, to] of slot.watched) {
      const first = firstAbove(ages, from)
      const end = firstAbove(ages, to)
      watched[first] = (watched[first] ?? 0) + slot.count
      watched[end] = (watched[end] ?? 0) - slot.count
    }
  }
  for (let j = 1; j <= n; j++) watched[j] = (watched[j] ?? 0) + (watched[j - 1] ?? 0)
  const mean = new Float64Array(n)
  // drift[j] = Σ up to j of failures/watched², what a slot watched throughout loses without a failure of its own.
  const drift = new Float64Array(n + 1)
  for (let j = 0; j < n; j++) {
    const failures = failuresAt.get(ages[j] ?? 0) ?? 0
    const at = watched[j] ?? 1
    mean[j] = (j > 0 ? (mean[j - 1] ?? 0) : 0) + failures / at
    drift[j + 1] = (drift[j] ?? 0) + failures / (at * at)
  }
  const variance = varianceSteps(slots, ages, watched, drift)
  return Array.from(ages, (age, j) => ({
    age,
    slotsWatched: watched[j] ?? 0,
    failures: failuresAt.get(age) ?? 0,
    mean: mean[j] ?? 0,
    standardError: Math.sqrt(Math.max(0, variance[j] ?? 0)),
  }))
}

/**
 * Σ slots of (own score up to j)², where the score of a slot is own(j) − (drift while watched). A slot's score is
 * constant − drift between its own events, so its square is a parabola in drift: three coefficients change at each
 * event, and all slots are summed in one sweep.
 */
function varianceSteps(
  slots: readonly SlotHistory[],
  ages: Float64Array,
  watched: Float64Array,
  drift: Float64Array,
): Float64Array {
  const n = ages.length
  // Sum over slots of (c − w·D)² = c² − 2cw·D + w²·D², w 1 while watched and 0 otherwise.
  const squares = new Float64Array(n + 1)
  const crosses = new Float64Array(n + 1)
  const weights = new Float64Array(n + 1)
  for (const slot of slots) {
    let constant = 0
    let open = 0
    const change = (j: number, nextConstant: number, nextOpen: number): void => {
      const { count } = slot
      squares[j] = (squares[j] ?? 0) + count * (nextConstant * nextConstant - constant * constant)
      crosses[j] = (crosses[j] ?? 0) + count * (nextConstant * nextOpen - constant * open)
      weights[j] = (weights[j] ?? 0) + count * (nextOpen - open)
      constant = nextConstant
      open = nextOpen
    }
    let next = 0
    for (const [from, to] of slot.watched) {
      const first = firstAbove(ages, from)
      const end = firstAbove(ages, to)
      change(first, constant + (drift[first] ?? 0), 1)
      for (; next < slot.failures.length && (slot.failures[next] ?? 0) <= to; next++) {
        const j = firstAbove(ages, slot.failures[next] ?? 0) - 1
        change(j, constant + 1 / (watched[j] ?? 1), open)
      }
      change(end, constant - (drift[end] ?? 0), 0)
    }
  }
  const variance = new Float64Array(n)
  let square = 0
  let cross = 0
  let weight = 0
  for (let j = 0; j < n; j++) {
    square += squares[j] ?? 0
    cross += crosses[j] ?? 0
    weight += weights[j] ?? 0
    const d = drift[j + 1] ?? 0
    variance[j] = square - 2 * cross * d + weight * d * d
  }
  return variance
}

/** The first index whose age is over a limit; n if none is. Ages in rising order. */
function firstAbove(ages: Float64Array, limit: number): number {
  return firstIndex(ages.length, i => (ages[i] ?? 0) > limit)
}
