import { normalQuantile } from './special.ts'

/**
 * Standard normal scores of many uniform numbers, fast: cubic pieces between exact values, exact in the tails.
 */
const CELLS = 4096
const TAIL_CELLS = 64
let table: Float64Array | null = null

/**
 * The standard normal score of a probability (O1 draws its delays by it).
 *
 * @param probability - (0, 1)
 * @returns score; within 1e-9 of the exact quantile
 * @source cubic Hermite interpolation of the quantile function with its exact derivative 1/φ(z); table size is ours
 */
export function normalScore(probability: number): number {
  const place = probability * CELLS
  const cell = Math.floor(place)
  if (cell < TAIL_CELLS || cell >= CELLS - TAIL_CELLS) return normalQuantile(probability)
  table ??= buildTable()
  const t = place - cell
  const z0 = table[2 * cell] ?? 0
  const d0 = table[2 * cell + 1] ?? 0
  const z1 = table[2 * cell + 2] ?? 0
  const d1 = table[2 * cell + 3] ?? 0
  const rise = z1 - z0
  return z0 + t * (d0 + t * (3 * rise - 2 * d0 - d1 + t * (d0 + d1 - 2 * rise)))
}

/** Score and derivative with respect to the cell, at each edge of a cell. */
function buildTable(): Float64Array {
  const edges = new Float64Array(2 * (CELLS + 1))
  for (let i = TAIL_CELLS; i <= CELLS - TAIL_CELLS; i++) {
    const z = normalQuantile(i / CELLS)
    edges[2 * i] = z
    edges[2 * i + 1] = (Math.sqrt(2 * Math.PI) * Math.exp((z * z) / 2)) / CELLS
  }
  return edges
}
