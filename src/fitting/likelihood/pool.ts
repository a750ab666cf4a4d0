import { power } from '../../numerics/power.ts'
import type { LifeRows } from '../rows.ts'

/** Ages in rising order, each with a weight. */
export interface WeightedAges {
  readonly ages: Float64Array
  readonly weights: Float64Array
}

/**
 * What a likelihood needs of the records, equal ages taken together, so that its cost rises with the number of
 * different ages and not with the number of units.
 */
export interface Pool {
  /** Ages of exact failures with their number. */
  readonly failures: WeightedAges
  /** Ages whose cumulative hazard counts: + at the end of watching, − at its start; interval rows only at the start. */
  readonly exposures: WeightedAges
  /** Failures known only to lie between two ages. */
  readonly intervals: {
    readonly afterAges: Float64Array
    readonly beforeAges: Float64Array
    readonly counts: Float64Array
  }
  /** Units, all outcomes. */
  readonly nUnits: number
  /** Failures, exact and between two ages. */
  readonly nFailed: number
  readonly oldestAge: number
}

/**
 * The records of a group, pooled by age.
 *
 * @param rows - the records, ages >= 0
 * @param merge - whether equal ages are taken together; without it the pool is not sorted, which is faster where hardly
 *   any are equal and only the likelihood is needed
 * @returns the pool; its likelihood is that of the rows
 */
export function pool(rows: LifeRows, merge = true): Pool {
  const failed: number[] = []
  const failedWeights: number[] = []
  const exposed: number[] = []
  const exposedWeights: number[] = []
  const between: [after: number, before: number, count: number][] = []
  let nUnits = 0
  let nFailed = 0
  let oldestAge = 0
  for (let r = 0; r < rows.counts.length; r++) {
    const start = rows.startAges[r] ?? 0
    const after = rows.afterAges[r] ?? 0
    const before = rows.beforeAges[r] ?? Infinity
    const count = rows.counts[r] ?? 0
    nUnits += count
    if (before !== Infinity) nFailed += count
    oldestAge = Math.max(oldestAge, before === Infinity ? after : before)
    if (start > 0) {
      exposed.push(start)
      exposedWeights.push(-count)
    }
    if (before === Infinity || before === after) {
      exposed.push(after)
      exposedWeights.push(count)
      if (before === after) {
        failed.push(after)
        failedWeights.push(count)
      }
    } else {
      between.push([after, before, count])
    }
  }
  between.sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const merged: [number, number, number][] = []
  for (const row of between) {
    const last = merged.at(-1)
    if (last !== undefined && last[0] === row[0] && last[1] === row[1]) last[2] += row[2]
    else merged.push([...row])
  }
  return {
    failures: merge ? gather(failed, failedWeights) : asTheyAre(failed, failedWeights),
    exposures: merge ? gather(exposed, exposedWeights) : asTheyAre(exposed, exposedWeights),
    intervals: {
      afterAges: Float64Array.from(merged, row => row[0]),
      beforeAges: Float64Array.from(merged, row => row[1]),
      counts: Float64Array.from(merged, row => row[2]),
    },
    nUnits,
    nFailed,
    oldestAge,
  }
}

/**
 * Equal ages taken together, in rising order; ages whose weights cancel and age 0 are left out.
 *
 * @param ages - ages, >= 0, any order
 * @param weights - one weight an age
 */
export function gather(ages: readonly number[], weights: readonly number[]): WeightedAges {
  // Most entries are one unit each: those are sorted as plain numbers, ten times as fast as with a comparison.
  const ones = Float64Array.from(ages.filter((_, i) => weights[i] === 1)).sort()
  const others = ages.map((_, i) => i).filter(i => weights[i] !== 1)
  others.sort((a, b) => (ages[a] ?? 0) - (ages[b] ?? 0))
  const outAges: number[] = []
  const outWeights: number[] = []
  let one = 0
  let other = 0
  while (one < ones.length || other < others.length) {
    const nextOne = ones[one] ?? Infinity
    const nextOther = ages[others[other] ?? -1] ?? Infinity
    const age = Math.min(nextOne, nextOther)
    let weight = 0
    for (; ones[one] === age; one++) weight++
    for (; other < others.length && ages[others[other] ?? -1] === age; other++)
      weight += weights[others[other] ?? -1] ?? 0
    if (age > 0 && weight !== 0) {
      outAges.push(age)
      outWeights.push(weight)
    }
  }
  return { ages: Float64Array.from(outAges), weights: Float64Array.from(outWeights) }
}

function asTheyAre(ages: readonly number[], weights: readonly number[]): WeightedAges {
  return {
    ages: Float64Array.from(ages),
    weights: Float64Array.from(weights, (weight, i) => (ages[i] === 0 ? 0 : weight)),
  }
}

/**
 * An age rounded to so many significant digits.
 *
 * @param age - >= 0 or Infinity
 * @param digits - whole number, > 0
 * @example roundAge(12.34567, 4) // 12.35
 */
export function roundAge(age: number, digits: number): number {
  if (age <= 0 || age === Infinity) return age
  const unit = power(10, digits - 1 - Math.floor(Math.log10(age)))
  return Math.round(age * unit) / unit
}
