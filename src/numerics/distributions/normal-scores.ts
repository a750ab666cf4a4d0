import { normalQuantile } from '../special.ts'

/**
 * Standard normal scores of many uniform numbers, fast: cubic pieces between exact values, exact in the tails.
 */
const CELLS = 4096
/** Outermost cells of a table at either end, where a cubic is not good enough. */
const TAIL_CELLS = 64
/** The same for what falls into them: a table of cells 64 times as narrow. */
const NARROWER = CELLS / TAIL_CELLS

const body: ScoreTable = { scale: CELLS, edges: null }
const tail: ScoreTable = { scale: CELLS * NARROWER, edges: null }

/** Scores of probabilities from 64 to 4,032 cells of width 1/scale. */
interface ScoreTable {
  readonly scale: number
  /** Score and its derivative by the cell, at each edge; NaN until a neighbouring cell is used. */
  edges: Float64Array | null
}

/**
 * The standard normal score of a probability (O1 draws its delays by it).
 *
 * @param probability - (0, 1)
 * @returns score; within 1e-9 of the exact quantile
 * @source cubic Hermite interpolation of the quantile function with its exact derivative 1/φ(z); table sizes are ours
 */
export function normalScore(probability: number): number {
  const place = probability * CELLS
  if (place >= TAIL_CELLS && place < CELLS - TAIL_CELLS) return scoreIn(body, place)
  const outer = Math.min(place, CELLS - place) * NARROWER
  if (outer < TAIL_CELLS) return normalQuantile(probability)
  return place < TAIL_CELLS ? scoreIn(tail, outer) : -scoreIn(tail, outer)
}

function scoreIn(table: ScoreTable, place: number): number {
  table.edges ??= new Float64Array(2 * (CELLS + 1)).fill(Number.NaN)
  const { edges, scale } = table
  const cell = Math.floor(place)
  const t = place - cell
  if (Number.isNaN(edges[2 * cell])) fillEdge(edges, cell, scale)
  if (Number.isNaN(edges[2 * cell + 2])) fillEdge(edges, cell + 1, scale)
  const z0 = edges[2 * cell] ?? 0
  const d0 = edges[2 * cell + 1] ?? 0
  const z1 = edges[2 * cell + 2] ?? 0
  const d1 = edges[2 * cell + 3] ?? 0
  const rise = z1 - z0
  return z0 + t * (d0 + t * (3 * rise - 2 * d0 - d1 + t * (d0 + d1 - 2 * rise)))
}

function fillEdge(edges: Float64Array, edge: number, scale: number): void {
  const z = normalQuantile(edge / scale)
  edges[2 * edge] = z
  edges[2 * edge + 1] = (Math.sqrt(2 * Math.PI) * Math.exp((z * z) / 2)) / scale
}
