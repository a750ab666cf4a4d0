import { power } from '../../numerics/power.ts'
import { streamKey } from '../../numerics/random/streams.ts'

/** Bits of the filter. Ours: 8 MiB, with which a million ids raise a false suspicion in fewer than one of 10,000 runs. */
const BITS = power(2, 26)
const MARKS = 8

/**
 * Flags ids that may occur more than once, in memory that does not grow with their number; suspects must be checked.
 */
export class RepeatedIds {
  readonly #bits = new Int32Array(BITS / 32)
  /** Ids that may occur twice. */
  readonly suspects = new Set<string>()

  /**
   * Takes an id.
   *
   * @param id - of a site
   * @source B. BLOOM (1970), Space/time trade-offs in hash coding with allowable errors, Comm. ACM 13, 422–426 (recalled)
   */
  add(id: string): void {
    const { high, low } = streamKey(0, id)
    let seen = true
    for (let mark = 0; mark < MARKS; mark++) {
      const bit = (high + Math.imul(mark, low | 1)) & (BITS - 1)
      const word = bit >>> 5
      const flag = 1 << (bit & 31)
      if (((this.#bits[word] ?? 0) & flag) === 0) seen = false
      this.#bits[word] = (this.#bits[word] ?? 0) | flag
    }
    if (seen) this.suspects.add(id)
  }
}
