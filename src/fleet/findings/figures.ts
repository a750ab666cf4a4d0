import { momentsOf, standardErrorOf, varianceOf } from '../../numerics/samples/moments.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import { quantileError } from '../../numerics/samples/quantile-error.ts'
import type { ValueWithError } from '../fleet-results.ts'

/**
 * Mean of a value over the draws, with s/√draws. Every draw is its own parameter set (F3), and one hypercube over all of
 * them can only make the error smaller: with ± it is an upper bound (F7b).
 *
 * @param values - by draw
 */
export function meanFigure(values: Float64Array): ValueWithError {
  const moments = momentsOf(values)
  return { value: moments.mean, standardError: standardErrorOf(moments) }
}

/**
 * Quantile of a value over the draws, with the error of an order statistic (F7b).
 *
 * @param values - by draw
 * @param p - [0, 1]
 */
export function quantileFigure(values: Float64Array, p: number): ValueWithError {
  return { value: quantileOf(values, p), standardError: quantileError(values, p) }
}

/**
 * Mean over several columns of their quantile over the draws (F7b). What the columns share in a draw is in the error: it
 * is the spread of what each draw contributes, (p − [x ≤ quantile]) / density, averaged over the columns.
 *
 * @param columns - by draw each, of one length
 * @param p - (0, 1)
 * @source P. HUBER, E. RONCHETTI (2009), Robust Statistics, 2nd edition, section 3.3, influence function of a quantile (recalled)
 */
export function meanQuantileFigure(columns: readonly Float64Array[], p: number): ValueWithError {
  const draws = columns[0]?.length ?? 0
  const influence = new Float64Array(draws)
  let sum = 0
  for (const column of columns) {
    const quantile = quantileOf(column, p)
    // the error is √(p(1−p)/n) over the density
    const oneOverDensity = quantileError(column, p) / Math.sqrt((p * (1 - p)) / draws)
    sum += quantile
    column.forEach((value, draw) => {
      influence[draw] = (influence[draw] ?? 0) + ((p - (value <= quantile ? 1 : 0)) * oneOverDensity) / columns.length
    })
  }
  return { value: sum / columns.length, standardError: standardErrorOf(momentsOf(influence)) }
}

/**
 * Standard deviation over the draws, with √((m4 − s⁴)/n) / 2s (F7b).
 *
 * @param values - by draw
 * @source M. KENDALL, A. STUART (1977), The Advanced Theory of Statistics, vol. 1, 4th edition, section 10.8 (recalled)
 */
export function deviationFigure(values: Float64Array): ValueWithError {
  const { mean, count } = momentsOf(values)
  const variance = varianceOf(momentsOf(values))
  const deviation = Math.sqrt(variance)
  if (deviation === 0) return { value: 0, standardError: 0 }
  const fourth = momentsOf(values.map(value => (value - mean) * (value - mean) * (value - mean) * (value - mean))).mean
  return {
    value: deviation,
    standardError: Math.sqrt(Math.max(0, fourth - variance * variance) / count) / (2 * deviation),
  }
}

function quantileOf(sample: Float64Array, p: number): number {
  return quantiles(sample, [p])[0] ?? 0
}
