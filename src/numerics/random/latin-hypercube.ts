import { openStream, type StreamKey } from './streams.ts'

/**
 * One column of a Latin hypercube: every stratum of (0, 1) is visited once, at a random place within it (U1).
 *
 * @param key - stream of the input; the column depends on nothing else, so other inputs never change it
 * @param block - number of the hypercube, whole, >= 0
 * @param strata - number of points, >= 1
 * @returns Float64Array of `strata` values in (0, 1)
 * @source McKay, Beckman & Conover (1979), A comparison of three methods for selecting values of input variables, section 2
 */
export function latinColumn(key: StreamKey, block: number, strata: number): Float64Array {
  const stream = openStream(key, block)
  const column = new Float64Array(strata)
  for (let i = 0; i < strata; i++) column[i] = (i + stream.coarse()) / strata
  for (let i = strata - 1; i > 0; i--) {
    const j = Math.floor(stream.coarse() * (i + 1))
    const kept = column[i] ?? 0
    column[i] = column[j] ?? 0
    column[j] = kept
  }
  return column
}
