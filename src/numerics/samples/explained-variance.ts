import { momentsOf } from './moments.ts'

/** Observations per regressor below which chance dominates the fit. Ours. */
const LEAST_PER_COLUMN = 2

/**
 * Share of the variance of a figure that a straight line through some columns explains: the adjusted coefficient of
 * determination, 1 − (1 − R²)·(n − 1)/(n − p − 1), which unrelated columns do not raise.
 *
 * @param columns - p columns of n values each, none of them constant
 * @param values - n values
 * @returns share, at most 1; about 0 (also a little below) where the columns explain nothing; 0 without columns;
 *   null with too few values for the columns, and where the values do not vary
 * @source H. THEIL (1961), Economic Forecasts and Policy, 2nd edition, section 6.4 (recalled)
 * @example explainedVariance([[1, 2, 3, 4]], [2, 4, 6, 8]) // 1
 */
export function explainedVariance(columns: readonly ArrayLike<number>[], values: ArrayLike<number>): number | null {
  const n = values.length
  const p = columns.length
  if (n < LEAST_PER_COLUMN * (p + 1)) return null
  const rest = centred(values)
  const total = dot(rest, rest)
  const { mean } = momentsOf(Float64Array.from(values))
  // below this the spread is rounding
  if (total <= 1e-24 * n * (mean * mean + Number.MIN_VALUE)) return null
  // modified Gram-Schmidt: what is left of the values once each column is taken out
  const basis: Float64Array[] = []
  for (const column of columns) {
    const direction = centred(column)
    const before = dot(direction, direction)
    for (const known of basis) takeOut(direction, known)
    // a column that is a combination of the others adds nothing
    if (dot(direction, direction) <= 1e-20 * before) continue
    basis.push(direction)
    takeOut(rest, direction)
  }
  const unexplained = dot(rest, rest) / total
  return 1 - (unexplained * (n - 1)) / (n - basis.length - 1)
}

function centred(values: ArrayLike<number>): Float64Array {
  const column = Float64Array.from(values)
  const { mean } = momentsOf(column)
  return column.map(value => value - mean)
}

function takeOut(from: Float64Array, direction: Float64Array): void {
  const factor = dot(from, direction) / dot(direction, direction)
  for (let i = 0; i < from.length; i++) from[i] = (from[i] ?? 0) - factor * (direction[i] ?? 0)
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0
  for (let i = 0; i < one.length; i++) sum += (one[i] ?? 0) * (other[i] ?? 0)
  return sum
}
