/**
 * Means and spreads of samples, summed in a fixed order so that the same values give the same bytes.
 *
 * @source T. CHAN, G. GOLUB, R. LEVEQUE (1983), "Algorithms for computing the sample variance", American Statistician 37, 242–247 (pairwise updating)
 */

import { square } from '../power.ts'

/** What is kept of a sample: enough for its mean and its spread, and to join it with another. */
export interface Moments {
  /** Number of values. */
  readonly count: number
  /** Their mean; 0 for none. */
  readonly mean: number
  /** Sum of squared distances from the mean, >= 0. */
  readonly squares: number
}

/** Of no value at all. */
export const NO_MOMENTS: Moments = { count: 0, mean: 0, squares: 0 }

/** Samples up to this length are summed straight on; longer ones by halves. Ours: short enough that rounding stays under 1e-14. */
const LEAF = 128

/**
 * Count, mean and squared distances of a sample, summed by halves.
 *
 * @param values - finite; not changed
 * @param from - first index, default 0
 * @param to - index after the last, default all
 * @returns the moments; `NO_MOMENTS` for an empty range
 * @example momentsOf([1, 2, 3, 4]) // { count: 4, mean: 2.5, squares: 5 }
 */
export function momentsOf(values: ArrayLike<number>, from = 0, to = values.length): Moments {
  const count = to - from
  if (count <= 0) return NO_MOMENTS
  if (count > LEAF) {
    const half = from + Math.ceil(count / 2 / LEAF) * LEAF
    return joinMoments(momentsOf(values, from, half), momentsOf(values, half, to))
  }
  let sum = 0
  for (let i = from; i < to; i++) sum += values[i] ?? 0
  const mean = sum / count
  let squares = 0
  for (let i = from; i < to; i++) squares += square((values[i] ?? 0) - mean)
  return { count, mean, squares }
}

/**
 * The moments of two samples put together. The order matters to the last bit: join in a fixed order.
 *
 * @param first - moments of the one
 * @param second - moments of the other
 * @returns moments of both
 * @example joinMoments(momentsOf([1, 2]), momentsOf([3, 4])) // { count: 4, mean: 2.5, squares: 5 }
 */
export function joinMoments(first: Moments, second: Moments): Moments {
  if (first.count === 0) return second
  if (second.count === 0) return first
  const count = first.count + second.count
  const gap = second.mean - first.mean
  return {
    count,
    mean: first.mean + (gap * second.count) / count,
    squares: first.squares + second.squares + (gap * gap * first.count * second.count) / count,
  }
}

/**
 * The variance of the population a sample was drawn from (divisor n − 1).
 *
 * @param moments - of the sample
 * @returns unit squared, >= 0; 0 for fewer than two values
 * @example varianceOf(momentsOf([1, 2, 3, 4])) // 1.66667
 */
export function varianceOf(moments: Moments): number {
  return moments.count < 2 ? 0 : moments.squares / (moments.count - 1)
}

/**
 * Standard error of the mean of independent draws (X2, without ±).
 * s/√n
 *
 * @param moments - of the draws
 * @returns unit of the values, >= 0; 0 for fewer than two
 * @example standardErrorOf(momentsOf([1, 2, 3, 4])) // 0.645497
 */
export function standardErrorOf(moments: Moments): number {
  return moments.count < 2 ? 0 : Math.sqrt(varianceOf(moments) / moments.count)
}
