/**
 * Sample quantiles: between the order statistics on a straight line (type 7).
 *
 * @source R. HYNDMAN, Y. FAN (1996), "Sample quantiles in statistical packages", American Statistician 50, 361–365, definition 7
 */

import { quantileSorted as libraryQuantileSorted, quickselect } from 'simple-statistics'

/**
 * The value that a share of a sorted sample stays under.
 * With h = (n−1)·p: x[⌊h⌋] + (h − ⌊h⌋)·(x[⌈h⌉] − x[⌊h⌋])
 *
 * @param sorted - ascending, at least one value
 * @param p - share, [0, 1]
 * @returns the quantile, in the unit of the sample
 * @throws RangeError for an empty sample or a share outside [0, 1]
 * @example quantileSorted(Float64Array.of(1, 2, 3, 4), 0.5) // 2.5
 */
export function quantileSorted(sorted: Float64Array, p: number): number {
  requireSample(sorted, p)
  return libraryQuantileSorted(asNumbers(sorted), p)
}

/**
 * Several quantiles of an unsorted sample, to the last bit those of `quantileSorted`, without sorting it all.
 *
 * @param values - at least one value, in any order; not changed
 * @param ps - shares, [0, 1], in any order
 * @returns one quantile a share, in the order of `ps`
 * @throws RangeError for an empty sample or a share outside [0, 1]
 * @example quantiles(Float64Array.of(4, 1, 3, 2), [0.5, 1]) // [2.5, 4]
 */
export function quantiles(values: Float64Array, ps: readonly number[]): number[] {
  for (const p of ps) requireSample(values, p)
  if (scratch.length !== values.length) scratch = new Float64Array(values.length)
  const copy = scratch
  copy.set(values)
  let placed = -1 // everything up to here stands where a sort would put it, or below
  for (const rank of ranksNeeded(copy.length, ps)) {
    quickselect(asNumbers(copy), rank, placed + 1, copy.length - 1)
    placed = rank
  }
  return ps.map(p => libraryQuantileSorted(asNumbers(copy), p))
}

/** Copy that is put in order; serves sample after sample of one size. */
let scratch = new Float64Array(0)

/** The places of the sorted sample that the shares read, ascending, each once. */
function ranksNeeded(n: number, ps: readonly number[]): number[] {
  const ranks = ps.flatMap(p => [Math.floor((n - 1) * p), Math.ceil((n - 1) * p)])
  return [...new Set(ranks)].sort((a, b) => a - b)
}

/** The library is typed for arrays but reads and writes by index only, which a Float64Array answers alike. */
function asNumbers(values: Float64Array): number[] {
  return values as unknown as number[] // see above
}

function requireSample(values: Float64Array, p: number): void {
  if (values.length === 0) throw new RangeError('quantile: the sample is empty')
  if (!(p >= 0 && p <= 1)) throw new RangeError(`quantile: p must be in [0, 1], got ${p}`)
}
