import { gammaLn, gammaQuantile, normalCdf } from '../special.ts'
import { normalScore } from './normal-scores.ts'

/** Nodes of the table, on standard normal scores. Ours: with them the error of the cubic is under 1e-9. */
const REACH = 4
const PER_SCORE = 32
const NODES = 2 * REACH * PER_SCORE + 1

/**
 * Quantiles of gamma variables with mean 1 and one shape, used once a parameter set (M4): cubic pieces of their
 * logarithm on the normal score of the share, with the exact derivative at each node. A node is computed when first
 * needed.
 */
export class GammaMultipliers {
  readonly #shape: number
  readonly #logNorm: number
  readonly #log = new Float64Array(NODES).fill(Number.NaN)
  readonly #slope = new Float64Array(NODES)

  /** @param shape - > 0; the coefficient of variation is 1/√shape */
  constructor(shape: number) {
    this.#shape = shape
    this.#logNorm = shape * Math.log(shape) - gammaLn(shape)
  }

  /**
   * The value below which a share of the variables lies.
   *
   * @param share - (0, 1)
   * @returns > 0, relative error under 1e-8 for shapes from 1 on; below that, and in the tails, from the library
   */
  at(share: number): number {
    const place = (normalScore(share) + REACH) * PER_SCORE
    const node = Math.floor(place)
    if (this.#shape < 1 || !(node >= 0 && node < NODES - 1)) return gammaQuantile(share, this.#shape, 1 / this.#shape)
    this.#prepare(node)
    this.#prepare(node + 1)
    const t = place - node
    const y0 = this.#log[node] ?? 0
    const rise = (this.#log[node + 1] ?? 0) - y0
    const d0 = this.#slope[node] ?? 0
    const d1 = this.#slope[node + 1] ?? 0
    return Math.exp(y0 + t * (d0 + t * (3 * rise - 2 * d0 - d1 + t * (d0 + d1 - 2 * rise))))
  }

  /** ln of the value and its slope at a node: dx/dz = φ(z)/f(x). */
  #prepare(node: number): void {
    if (!Number.isNaN(this.#log[node])) return
    const score = node / PER_SCORE - REACH
    const value = gammaQuantile(normalCdf(score), this.#shape, 1 / this.#shape)
    const logDensity = this.#logNorm + (this.#shape - 1) * Math.log(value) - this.#shape * value
    this.#log[node] = Math.log(value)
    this.#slope[node] = Math.exp(-0.5 * score * score - 0.5 * Math.log(2 * Math.PI) - logDensity) / value / PER_SCORE
  }
}
