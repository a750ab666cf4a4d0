/**
 * The lognormal distribution of a delay, given by its median and its 90 % point (O1).
 */

import { SCORE_90 } from './two-piece.ts'

/**
 * The spread of a lognormal from its 90 % point: standard deviation of the logarithm (O1).
 * sigma = ln(p90/median)/1.2816
 *
 * @param p90OverMedian - >= 1; 1 means no spread
 * @returns sigma, >= 0
 * @throws RangeError under 1
 * @example lognormalSigma(3.21) // 0.91005
 */
export function lognormalSigma(p90OverMedian: number): number {
  if (!(p90OverMedian >= 1)) throw new RangeError(`lognormalSigma: p90/median must be >= 1, got ${p90OverMedian}`)
  return Math.log(p90OverMedian) / SCORE_90
}

/**
 * The mean delay, above the median because a few are very long.
 * median·exp(sigma²/2)
 *
 * @param median - >= 0
 * @param sigma - >= 0
 * @returns the mean, in the unit of the median
 * @example lognormalMean(10, 0.91005) // 15.13
 */
export function lognormalMean(median: number, sigma: number): number {
  return median * Math.exp((sigma * sigma) / 2)
}
