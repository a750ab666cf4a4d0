import { power } from '../../numerics/power.ts'
import { streamKey } from '../../numerics/random/streams.ts'
import type { FleetFrame } from './fleet-frame.ts'

/** Sites of the sample; groups of ten and one of a hundred are made of it (F7). */
const SAMPLE = 100
const TEN = 10

/** Sites picked at random for comparison (F7); which they are does not depend on the order of the sites. */
export class SiteSample {
  readonly #seed: number
  readonly #picked: { readonly id: string; readonly rank: number }[] = []

  /** @param seed - of the run */
  constructor(seed: number) {
    this.#seed = seed
  }

  /**
   * Keeps the ids of the lowest random rank.
   *
   * @param id - of a site
   */
  add(id: string): void {
    const picked = this.#picked
    const { high, low } = streamKey(this.#seed, JSON.stringify(['sample', id]))
    const rank = (high >>> 0) * power(2, 21) + (low >>> 11)
    const last = picked.at(-1)
    if (picked.length >= SAMPLE && last !== undefined && rank >= last.rank) return
    const at = picked.findIndex(other => rank < other.rank)
    picked.splice(at < 0 ? picked.length : at, 0, { id, rank })
    if (picked.length > SAMPLE) picked.pop()
  }

  /** Groups of ten, and one of a hundred where there are that many (F7). */
  groups(): Pick<FleetFrame, 'sample' | 'groupSizes'> {
    const ids = this.#picked.map(({ id }) => id)
    const tens = Math.floor(ids.length / TEN)
    const sample = new Map<string, readonly number[]>()
    ids.forEach((id, i) => {
      const groups = i < tens * TEN ? [Math.floor(i / TEN)] : []
      if (ids.length === SAMPLE) groups.push(tens)
      if (groups.length > 0) sample.set(id, groups)
    })
    const groupSizes = [...new Array<number>(tens).fill(TEN), ...(ids.length === SAMPLE ? [SAMPLE] : [])]
    return { sample, groupSizes }
  }
}
