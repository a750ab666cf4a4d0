import { momentsOf, varianceOf } from '../numerics/moments.ts'
import { quantiles } from '../numerics/quantile.ts'
import type { Figure } from './fleet-results.ts'

/** Groups of draws, in order, whose spread gives the standard error of a figure (X2). */
const GROUPS = 10

/**
 * Mean of a value over the draws (X2).
 *
 * @param values - by draw
 */
export function meanFigure(values: Float64Array): Figure {
  return figureOf(values, sample => momentsOf(sample).mean)
}

/**
 * Quantile of a value over the draws (X2).
 *
 * @param values - by draw
 * @param p - [0, 1]
 */
export function quantileFigure(values: Float64Array, p: number): Figure {
  return figureOf(values, sample => quantileOf(sample, p))
}

/**
 * Mean over several columns of their quantile over the draws (X2). What the columns share in a draw is in the error.
 *
 * @param columns - by draw each, of one length
 * @param p - [0, 1]
 */
export function meanQuantileFigure(columns: readonly Float64Array[], p: number): Figure {
  const over = (from: number, to: number): number =>
    columns.reduce((sum, column) => sum + quantileOf(column.subarray(from, to), p), 0) / columns.length
  const draws = columns[0]?.length ?? 0
  return { value: over(0, draws), standardError: groupError(draws, over) }
}

/**
 * Standard deviation over the draws. Its error is by leaving out one tenth of the draws after another: the spread within
 * a tenth alone would be too small.
 *
 * @param values - by draw
 */
export function deviationFigure(values: Float64Array): Figure {
  const deviation = (sample: Float64Array): number => Math.sqrt(varianceOf(momentsOf(sample)))
  const groups = Math.min(GROUPS, values.length)
  const each = Array.from({ length: groups }, (_, group) =>
    deviation(values.filter((_, draw) => draw % groups !== group)),
  )
  return {
    value: deviation(values),
    standardError: groups < 3 ? 0 : Math.sqrt(momentsOf(each).squares * ((groups - 1) / groups)),
  }
}

function figureOf(values: Float64Array, of: (sample: Float64Array) => number): Figure {
  return { value: of(values), standardError: groupError(values.length, (from, to) => of(values.subarray(from, to))) }
}

function quantileOf(sample: Float64Array, p: number): number {
  return quantiles(sample, [p])[0] ?? 0
}

/** Spread of a figure over ten groups of draws in order, over √10; over single draws where there are fewer. */
function groupError(draws: number, of: (from: number, to: number) => number): number {
  const groups = Math.min(GROUPS, draws)
  if (groups < 2) return 0
  const each = Array.from({ length: groups }, (_, group) =>
    of(Math.floor((group * draws) / groups), Math.floor(((group + 1) * draws) / groups)),
  )
  return Math.sqrt(varianceOf(momentsOf(each)) / groups)
}
