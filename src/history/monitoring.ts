import { FIRST_ROOM } from '../numerics/first-room.ts'

/**
 * When gateways are down, in some lifetimes at once, and so whether a failure is seen (O2).
 */
export class MonitoringGaps {
  #n = 0
  /** By lane: its latest gap, or −1. */
  #head = new Int32Array(0)
  // by gap: the one before it in its lane, and [from, to) in years
  #next = new Int32Array(FIRST_ROOM)
  #from = new Float64Array(FIRST_ROOM)
  #to = new Float64Array(FIRST_ROOM)

  /** Starts with all gateways of all lanes working. */
  begin(lanes: number): void {
    this.#n = 0
    if (this.#head.length < lanes) this.#head = new Int32Array(lanes)
    this.#head.fill(-1, 0, lanes)
  }

  /**
   * Adds a gap, in which a gateway is down; its end is Infinity while it is not known. Returns the number of the gap.
   */
  add(lane: number, from: number, to: number): number {
    const gap = this.#n++
    if (gap >= this.#next.length) this.#grow()
    this.#next[gap] = this.#head[lane] ?? -1
    this.#head[lane] = gap
    this.#from[gap] = from
    this.#to[gap] = to
    return gap
  }

  /** Sets the end of a gap. */
  end(gap: number, to: number): void {
    this.#to[gap] = to
  }

  /**
   * The first moment, from a failure on, at which monitoring works.
   *
   * @param lane - its lifetime
   * @param at - moment of the failure, years
   * @param gateways - of the option
   * @returns `at` itself if one works then; a later moment if one is known to return; Infinity if not
   */
  worksFrom(lane: number, at: number, gateways: number): number {
    let down = 0
    let back = Infinity
    for (let gap = this.#head[lane] ?? -1; gap >= 0; gap = this.#next[gap] ?? -1) {
      const to = this.#to[gap] ?? Infinity
      if ((this.#from[gap] ?? 0) <= at && at < to) {
        down++
        if (to < back) back = to
      }
    }
    return down < gateways ? at : back
  }

  #grow(): void {
    const [next, from, to] = [this.#next, this.#from, this.#to]
    this.#next = new Int32Array(2 * next.length)
    this.#from = new Float64Array(2 * next.length)
    this.#to = new Float64Array(2 * next.length)
    this.#next.set(next)
    this.#from.set(from)
    this.#to.set(to)
  }
}
