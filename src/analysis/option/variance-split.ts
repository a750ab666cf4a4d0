import { square } from '../../numerics/power.ts'
import { sumOf } from '../../numerics/sum.ts'

/** Variance of a figure, split into chance and what is not known (U2). */
export interface VarianceSplit {
  /** σw²: mean variance within parameter sets. */
  readonly within: number
  /** σb²: variance of the sets' true means, corrected for finite draws, not below 0. */
  readonly between: number
  readonly drawsPerSet: number
  readonly sets: number
}

/**
 * Splits the variance of a figure (U2): σw² is the mean variance within sets, σb² the variance of the set means less
 * σw²/n, not below 0.
 *
 * @param values - one a draw, sets one after another
 * @param drawsPerSet - n, draws of each set; the last may be cut short only where it is the only one
 * @returns the split; between is 0 with one set
 * @source one-way random effects: Searle, Casella & McCulloch (1992), Variance Components, section 3.6 (recalled)
 */
export function splitVariance(values: Float64Array, drawsPerSet: number): VarianceSplit {
  const sets = Math.max(1, Math.floor(values.length / drawsPerSet))
  const means = new Float64Array(sets)
  let within = 0
  for (let set = 0; set < sets; set++) {
    const from = set * drawsPerSet
    let sum = 0
    for (let i = from; i < from + drawsPerSet; i++) sum += values[i] ?? 0
    const mean = sum / drawsPerSet
    let squares = 0
    for (let i = from; i < from + drawsPerSet; i++) squares += square((values[i] ?? 0) - mean)
    means[set] = mean
    within += drawsPerSet > 1 ? squares / (drawsPerSet - 1) : 0
  }
  within /= sets
  if (sets < 2) return { within, between: 0, drawsPerSet, sets }
  const mean = sumOf(means) / sets
  const variance = means.reduce((sum, value) => sum + square(value - mean), 0) / (sets - 1)
  return { within, between: Math.max(0, variance - within / drawsPerSet), drawsPerSet, sets }
}

/**
 * Shares of a split variance; null where the variance is 0 (N4).
 *
 * @param split - from `splitVariance`
 */
export function varianceShares(split: VarianceSplit): { chanceShare: number | null; unknownShare: number | null } {
  const total = split.within + split.between
  // below this the spread is rounding, not variance
  if (total <= 1e-18) return { chanceShare: null, unknownShare: null }
  return { chanceShare: split.within / total, unknownShare: split.between / total }
}
