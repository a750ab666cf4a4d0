import { quantiles } from './quantile.ts'

/** Half the width of the interval of ranks that is used, in standard deviations of a rank. Ours: at 1 it is noisier. */
const DEVIATIONS = 2

/**
 * Standard error of a quantile of independent draws (X2, without ±), from the interval between two order statistics:
 * the quantiles at p ± 2·√(p(1−p)/n), a quarter of their distance.
 *
 * @param values - at least one draw, in any order; not changed
 * @param p - share, [0, 1]
 * @returns unit of the values, >= 0; 0 at p = 0 and p = 1 and where draws are equal around the quantile
 * @throws RangeError for an empty sample or a share outside [0, 1]
 * @source H. DAVID, H. NAGARAJA (2003), Order Statistics, 3rd edition, section 7.1 (recalled)
 * @example quantileError(Float64Array.of(1, 2, 3, 4), 0.5) // 0.75
 */
export function quantileError(values: Float64Array, p: number): number {
  const rank = Math.sqrt((p * (1 - p)) / values.length)
  const [low, high] = [Math.max(0, p - DEVIATIONS * rank), Math.min(1, p + DEVIATIONS * rank)]
  const [from = 0, to = 0] = quantiles(values, [low, high])
  // near the ends of the sample the interval is cut short
  return high > low ? (to - from) * (rank / (high - low)) : 0
}
