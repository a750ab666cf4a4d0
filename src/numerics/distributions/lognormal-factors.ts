import { cubicPiece } from '../cubic-piece.ts'
import { power } from '../power.ts'
import { normalQuantile } from '../special.ts'

/** Cells an octave of probability, and octaves from 1/2 down: below the last the exact quantile is used. Ours. */
const CELLS = 64
const OCTAVES = 20
const WIDTH = 2 * (CELLS + 1)
const TWO_32 = 4294967296

/** 2^k, k = 0 … 32. */
const POWERS = Float64Array.from({ length: 33 }, (_, k) => power(2, k))

/** Normal scores at the edges of all cells, the same for every spread; computed when first needed. */
let scores: Float64Array | null = null

/**
 * Factors exp(σz) by which a lognormal delay differs from its median (O1), z the normal score of a uniform number:
 * cubic pieces between exact values, in cells that halve with the probability towards either end. Relative error under
 * 5e-8 for σ up to 3.
 *
 * @source cubic Hermite interpolation with the exact derivative σ·exp(σz)/φ(z); table sizes are ours
 */
export class LognormalFactors {
  readonly sigma: number
  /** Factor and derivative by the cell at each edge: lower half of the probabilities, then the upper half from above. */
  readonly #edges: Float64Array

  /** @param sigma - standard deviation of the logarithm, > 0 */
  constructor(sigma: number) {
    this.sigma = sigma
    this.#edges = tabulate(sigma)
  }

  /**
   * The factor at a quantile.
   *
   * @param probability - (0, 1)
   * @returns > 0
   */
  at(probability: number): number {
    const upper = probability > 0.5
    const outer = upper ? 1 - probability : probability
    // leading zeros of 32 bits give the octave: 1 for (1/4, 1/2), 2 for (1/8, 1/4), …
    const octave = Math.clz32(outer * TWO_32)
    if (octave < 1 || octave > OCTAVES) return Math.exp(this.sigma * normalQuantile(probability))
    const place = (outer * (POWERS[octave + 1] as number) - 1) * CELLS
    const cell = Math.floor(place)
    const i = ((upper ? OCTAVES : 0) + octave - 1) * WIDTH + 2 * cell
    return cubicPiece(this.#edges, i, i + 2, place - cell)
  }
}

const kept = new Map<number, LognormalFactors>()

/**
 * The factors of a spread; a run uses a handful of spreads, so each is made once.
 *
 * @param sigma - standard deviation of the logarithm, > 0
 */
export function lognormalFactors(sigma: number): LognormalFactors {
  const known = kept.get(sigma)
  if (known !== undefined) return known
  const made = new LognormalFactors(sigma)
  // spreads are fixed within a scenario; a fleet may bring many
  if (kept.size >= 200) kept.clear()
  kept.set(sigma, made)
  return made
}

/** Probability at an edge of the lower half. */
function edgeAt(octave: number, edge: number): number {
  return (1 + edge / CELLS) / power(2, octave + 1)
}

function tabulate(sigma: number): Float64Array {
  const z = scoresAtEdges()
  const edges = new Float64Array(2 * OCTAVES * WIDTH)
  for (let octave = 1; octave <= OCTAVES; octave++) {
    const cellWidth = 1 / CELLS / power(2, octave + 1)
    for (let edge = 0; edge <= CELLS; edge++) {
      const score = z[(octave - 1) * (CELLS + 1) + edge] as number
      const perCell = sigma * cellWidth * Math.sqrt(2 * Math.PI) * Math.exp(0.5 * score * score)
      const lower = (octave - 1) * WIDTH + 2 * edge
      const upper = lower + OCTAVES * WIDTH
      edges[lower] = Math.exp(sigma * score)
      edges[lower + 1] = (edges[lower] as number) * perCell
      edges[upper] = Math.exp(-sigma * score)
      edges[upper + 1] = -(edges[upper] as number) * perCell
    }
  }
  return edges
}

function scoresAtEdges(): Float64Array {
  if (scores !== null) return scores
  scores = new Float64Array(OCTAVES * (CELLS + 1))
  for (let octave = 1; octave <= OCTAVES; octave++) {
    for (let edge = 0; edge <= CELLS; edge++) {
      scores[(octave - 1) * (CELLS + 1) + edge] = normalQuantile(edgeAt(octave, edge))
    }
  }
  return scores
}
