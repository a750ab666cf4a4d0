import { sobolCoordinate } from '../numerics/sobol.ts'
import { openStream, type Stream, type StreamKey } from '../numerics/streams.ts'

/** Draws that share a digital shift; errors are told from the spread over shifts (X2). */
const DRAWS_PER_SHIFT = 1000

/**
 * First failures of a population drawn from evenly spread points instead of by chance: over the draws of a block the
 * soonest failures fill their distribution without gaps. Off unless asked for (`--points even`).
 */
export class EvenPoints {
  readonly #dimension: number
  readonly #key: StreamKey
  #block = -1
  #shift = 0

  /**
   * @param dimension - coordinate of the point that is this population's alone
   * @param key - stream of the digital shifts
   */
  constructor(dimension: number, key: StreamKey) {
    this.#dimension = dimension
    this.#key = key
  }

  /**
   * A stream whose first exponential comes from the draw's point; all else is that of the stream given.
   *
   * @param draw - number of the draw over the whole run
   * @param stream - the population's stream of the draw
   */
  lead(draw: number, stream: Stream): Stream {
    const block = Math.floor(draw / DRAWS_PER_SHIFT)
    if (block !== this.#block) {
      this.#block = block
      this.#shift = Math.floor(openStream(this.#key, block).coarse() * 4294967296)
    }
    let led = -Math.log(sobolCoordinate(this.#dimension, draw % DRAWS_PER_SHIFT, this.#shift))
    return {
      uniform: () => stream.uniform(),
      coarse: () => stream.coarse(),
      exponential: () => {
        const first = led
        if (first < 0) return stream.exponential()
        led = -1
        return first
      },
    }
  }
}
