/**
 * Whether anyone would see a failure: the gateways of an option in one draw (O2).
 */
export class Monitoring {
  #gateways = 0
  #mode: 'always' | 'never' | 'gateways' = 'always'
  /** Spells in which one gateway is down, [failure, return). */
  readonly #from: number[] = []
  readonly #to: number[] = []

  /** Starts a draw with all gateways working. */
  begin(mode: 'always' | 'never' | 'gateways', gateways: number): void {
    this.#mode = mode
    this.#gateways = gateways
    if (this.#from.length === 0) return
    this.#from.length = 0
    this.#to.length = 0
  }

  /** A gateway is down from a moment until another; Infinity while that is not known. Returns the spell's number. */
  gatewayDown(from: number, to: number): number {
    this.#from.push(from)
    return this.#to.push(to) - 1
  }

  /** The gateway of a spell works again. */
  gatewayBack(spell: number, at: number): void {
    this.#to[spell] = at
  }

  /**
   * The moment from which monitoring works, seen from a failure (O2).
   *
   * @param at - moment of the failure, years
   * @returns `at` itself if it works then; a later moment if a gateway is known to return; Infinity if not
   */
  worksFrom(at: number): number {
    if (this.#mode === 'always') return at
    if (this.#mode === 'never') return Infinity
    let down = 0
    let back = Infinity
    for (let i = 0; i < this.#from.length; i++) {
      const to = this.#to[i] ?? Infinity
      if ((this.#from[i] ?? 0) <= at && at < to) {
        down++
        back = Math.min(back, to)
      }
    }
    return down < this.#gateways ? at : back
  }
}
