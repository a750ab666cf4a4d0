/**
 * How one lifetime changes from term to term (V1): steps at the few terms at which anything changes. The memory is reused.
 */
export class TermSteps {
  /** By term: increase over the term before of what the owner pays, and of the energy lost to outages. */
  readonly paid: Float64Array
  readonly lost: Float64Array
  /** Terms with a step, as bit masks: 0 to 31, and the rest. */
  #low = 0
  #high = 0

  /** @param terms - from 0, at most 63 */
  constructor(terms: number) {
    this.paid = new Float64Array(terms)
    this.lost = new Float64Array(terms)
  }

  /** Empties it. */
  clear(): void {
    for (let term = this.next(0); term >= 0; term = this.next(term + 1)) {
      this.paid[term] = 0
      this.lost[term] = 0
    }
    this.#low = 0
    this.#high = 0
  }

  /** Adds a step. */
  add(term: number, paid: number, lost: number): void {
    // shift counts are taken modulo 32
    if (term < 32) this.#low |= 1 << term
    else this.#high |= 1 << term
    this.paid[term] = (this.paid[term] as number) + paid // every term has its entry
    this.lost[term] = (this.lost[term] as number) + lost
  }

  /** The first term with a step from a term on; −1 if there is none. */
  next(from: number): number {
    if (from < 32) {
      const low = this.#low & (-1 << from)
      if (low !== 0) return 31 - Math.clz32(low & -low)
    }
    const high = this.#high & (-1 << Math.max(from, 32))
    return high === 0 ? -1 : 63 - Math.clz32(high & -high)
  }
}
