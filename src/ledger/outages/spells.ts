import { FIRST_ROOM } from '../../numerics/first-room.ts'

/**
 * Periods in which what is down does not change (O5): lifetime, start, end, and the share of the option's generation
 * that is lost. The memory is reused.
 */
export class Spells {
  n = 0
  lane = new Int32Array(FIRST_ROOM)
  /** Years. */
  from = new Float64Array(FIRST_ROOM)
  to = new Float64Array(FIRST_ROOM)
  /** [0, 1]. */
  share = new Float64Array(FIRST_ROOM)

  /** Empties it. */
  clear(): void {
    this.n = 0
  }

  /** Adds one. */
  add(lane: number, from: number, to: number, share: number): void {
    const i = this.n++
    if (i >= this.lane.length) this.#grow()
    this.lane[i] = lane
    this.from[i] = from
    this.to[i] = to
    this.share[i] = share
  }

  #grow(): void {
    const { lane, from, to, share } = this
    const room = 2 * lane.length
    this.lane = new Int32Array(room)
    this.from = new Float64Array(room)
    this.to = new Float64Array(room)
    this.share = new Float64Array(room)
    this.lane.set(lane)
    this.from.set(from)
    this.to.set(to)
    this.share.set(share)
  }
}
