import { FIRST_ROOM } from '../numerics/first-room.ts'

/**
 * When the provider behind one cover leaves, in some lifetimes side by side (W5). The memory is reused.
 */
export class ProviderExits {
  /** By lane: place of its first moment. */
  first = new Int32Array(0)
  /** Moments, years, ascending in a lifetime; after its last one, and where a provider never leaves, Infinity. */
  at = new Float64Array(FIRST_ROOM).fill(Infinity)
  /** Place of the last Infinity. */
  #end = 0

  /**
   * Starts with providers that never leave.
   *
   * @param lanes - number of lifetimes
   */
  begin(lanes: number): void {
    if (this.first.length < lanes) this.first = new Int32Array(lanes)
    this.first.fill(0, 0, lanes)
    this.at[0] = Infinity
    this.#end = 0
  }

  /** Begins the exits of a lifetime; `add` appends them. */
  open(lane: number): void {
    this.first[lane] = this.#end + 1
    this.#append()
  }

  /**
   * Adds an exit to the lifetime opened last.
   *
   * @param at - moment, years, later than those before
   */
  add(at: number): void {
    this.at[this.#end] = at
    this.#append()
  }

  /** Whether a provider leaves in a lifetime. */
  any(lane: number): boolean {
    return this.first[lane] !== 0
  }

  /**
   * Gives some lifetimes the exits of one.
   *
   * @param lanes - number of lifetimes
   * @param others - exits of others
   * @param lane - which of them
   */
  share(lanes: number, others: ProviderExits, lane: number): void {
    this.begin(lanes)
    if (!others.any(lane)) return
    this.open(0)
    this.first.fill(1, 0, lanes)
    for (let i = others.first[lane] as number; (others.at[i] as number) < Infinity; i++)
      this.add(others.at[i] as number)
  }

  #append(): void {
    const end = ++this.#end
    if (end === this.at.length) {
      const longer = new Float64Array(2 * end)
      longer.set(this.at)
      this.at = longer
    }
    this.at[end] = Infinity
  }
}
