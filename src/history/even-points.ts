import { sobolCoordinate } from '../numerics/random/sobol.ts'
import { openStream, type StreamKey } from '../numerics/random/streams.ts'

/** Draws that share a digital shift; errors are estimated from the spread over shifts (X2). */
const DRAWS_PER_SHIFT = 1000

/**
 * First failures of a population drawn from evenly spread points instead of by chance: over the draws of a block the
 * soonest failures fill their distribution without gaps. Off unless chosen (`--points even`).
 */
export class EvenPoints {
  readonly #dimension: number
  readonly #key: StreamKey
  #block = -1
  #shift = 0

  /**
   * @param dimension - coordinate of the points that only this population uses
   * @param key - stream of the digital shifts
   */
  constructor(dimension: number, key: StreamKey) {
    this.#dimension = dimension
    this.#key = key
  }

  /**
   * The number used in place of the first uniform of the population's soonest failure.
   *
   * @param draw - number of the draw over the whole run
   * @returns coordinate of the draw's point, (0, 1)
   */
  at(draw: number): number {
    const block = Math.floor(draw / DRAWS_PER_SHIFT)
    if (block !== this.#block) {
      this.#block = block
      this.#shift = Math.floor(openStream(this.#key, block).coarse() * 4294967296)
    }
    return sobolCoordinate(this.#dimension, draw % DRAWS_PER_SHIFT, this.#shift)
  }
}
