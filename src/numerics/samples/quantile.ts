/**
 * Sample quantiles: between the order statistics on a straight line (type 7).
 *
 * @source R. HYNDMAN, Y. FAN (1996), "Sample quantiles in statistical packages", American Statistician 50, 361–365, definition 7
 */

import { atRanks } from './ranks.ts'

/**
 * Several quantiles of an unsorted sample, without sorting it all.
 * With h = (n−1)·p and x sorted: x[⌊h⌋] + (h − ⌊h⌋)·(x[⌈h⌉] − x[⌊h⌋])
 *
 * @param values - at least one value, in any order; not changed
 * @param ps - shares, [0, 1], in any order
 * @returns one quantile a share, in the order of `ps`
 * @throws RangeError for an empty sample or a share outside [0, 1]
 * @example quantiles(Float64Array.of(4, 1, 3, 2), [0.5, 1]) // [2.5, 4]
 */
export function quantiles(values: Float64Array, ps: readonly number[]): number[] {
  for (const p of ps) requireSample(values, p)
  return betweenRanks(values.length, ps, ranks => atRanks(values, ranks))
}

/**
 * Quantiles from the few values of a sorted sample that they lie between.
 *
 * @param n - size of the sample
 * @param ps - shares, [0, 1], in any order
 * @param valuesAt - gives the values at some places of the sorted sample, ascending
 * @returns one quantile a share, in the order of `ps`
 */
export function betweenRanks(
  n: number,
  ps: readonly number[],
  valuesAt: (ranks: readonly number[]) => readonly number[],
): number[] {
  const ranks: number[] = []
  for (const p of ps)
    for (const rank of [Math.floor((n - 1) * p), Math.ceil((n - 1) * p)]) if (!ranks.includes(rank)) ranks.push(rank)
  if (ps.length > 1) ranks.sort((a, b) => a - b)
  const found = valuesAt(ranks)
  return ps.map(p => {
    const h = (n - 1) * p
    const low = found[ranks.indexOf(Math.floor(h))] ?? Number.NaN
    const high = found[ranks.indexOf(Math.ceil(h))] ?? Number.NaN
    return low === high ? low : low + (h - Math.floor(h)) * (high - low)
  })
}

function requireSample(values: Float64Array, p: number): void {
  if (values.length === 0) throw new RangeError('quantile: the sample is empty')
  if (!(p >= 0 && p <= 1)) throw new RangeError(`quantile: p must be in [0, 1], got ${p}`)
}
