import { type CdfTable, tabulateCdf } from '../../src/numerics/renewal/cdf-table.ts'

/** How many failures a slot has by the horizon. */
export interface CountDistribution {
  /** P(N >= k), k = 1, 2, … */
  readonly atLeast: readonly number[]
  readonly expected: number
  readonly variance: number
}

/**
 * The distribution of the number of renewals in (0, horizon], by folding the life with itself; replacements at once.
 * An oracle for tests: relative error about 1e-6.
 *
 * @param cdf - of the life
 * @param horizon - > 0
 * @returns probabilities until they fall under 1e-12, mean and variance
 */
export function countDistribution(cdf: (t: number) => number, horizon: number): CountDistribution {
  const table = tabulateCdf(cdf, horizon, 400)
  const coarse = folds(table, 2)
  const fine = folds(table, 1)
  const atLeast = fine.map((value, k) => (4 * value - (coarse[k] ?? 0)) / 3)
  const expected = atLeast.reduce((sum, p) => sum + p, 0)
  const square = atLeast.reduce((sum, p, k) => sum + (2 * k + 1) * p, 0)
  return { atLeast, expected, variance: square - expected ** 2 }
}

/** P(N >= k) at the horizon for k = 1, 2, …, on every `stride`-th point. */
function folds(table: CdfTable, stride: number): number[] {
  const n = (table.shares.length - 1) / stride
  const step = table.stepYears * stride
  const point = Float64Array.from({ length: n + 1 }, (_, i) => table.shares[i * stride] ?? 0)
  const area = Float64Array.from({ length: n + 1 }, (_, i) => table.areas[i * stride] ?? 0)
  const gain = point.map((value, i) => (i === 0 ? 0 : value - (point[i - 1] ?? 0)))
  const mean = area.map((value, i) => (i === 0 ? 0 : (value - (area[i - 1] ?? 0)) / step))
  const bend = mean.map((value, i) => (i === 0 ? 0 : value - ((point[i] ?? 0) + (point[i - 1] ?? 0)) / 2))
  const result: number[] = []
  let fold = point
  let foldMean = mean
  while ((fold[n] ?? 0) > 1e-12 && result.length < 400) {
    result.push(fold[n] ?? 0)
    const next = new Float64Array(n + 1)
    for (let i = 1; i <= n; i++) {
      let sum = 0
      for (let j = 1; j <= i; j++) {
        const grown = (fold[i - j + 1] ?? 0) - (fold[i - j] ?? 0)
        sum += (gain[j] ?? 0) * (foldMean[i - j + 1] ?? 0) + (bend[j] ?? 0) * grown
      }
      next[i] = sum
    }
    fold = next
    foldMean = next.map((value, i) => (i === 0 ? 0 : (value + (next[i - 1] ?? 0)) / 2))
  }
  return result
}
