import { FIRST_ROOM } from '../../numerics/first-room.ts'

/**
 * Payments of the draws of a block beyond their yearly cost, undiscounted, by year; percentiles of cash are computed
 * from them.
 */
export interface PaymentColumns {
  /** Number of the draw within its block. */
  readonly draw: Uint16Array
  readonly amount: Float64Array
  /** Where the payments of each year begin, and at [years] where the last end. */
  readonly firstOfYear: Int32Array
}

/** Payments in the order in which they are added; the memory is reused from block to block. */
export class Payments {
  #n = 0
  #draw = new Uint16Array(FIRST_ROOM)
  #year = new Uint8Array(FIRST_ROOM)
  #amount = new Float64Array(FIRST_ROOM)

  /** Adds a payment. */
  add(draw: number, year: number, amount: number): void {
    const i = this.#n++
    if (i >= this.#draw.length) this.#grow()
    this.#draw[i] = draw
    this.#year[i] = year
    this.#amount[i] = amount
  }

  /**
   * All payments by year, those of a year in the order in which they were added; empties the list.
   *
   * @param years - of the horizon
   */
  take(years: number): PaymentColumns {
    const n = this.#n
    const firstOfYear = new Int32Array(years + 1)
    for (let i = 0; i < n; i++) firstOfYear[(this.#year[i] ?? 0) + 1] = (firstOfYear[(this.#year[i] ?? 0) + 1] ?? 0) + 1
    for (let year = 0; year < years; year++) {
      firstOfYear[year + 1] = (firstOfYear[year + 1] ?? 0) + (firstOfYear[year] ?? 0)
    }
    const next = firstOfYear.slice()
    const draw = new Uint16Array(n)
    const amount = new Float64Array(n)
    for (let i = 0; i < n; i++) {
      const year = this.#year[i] ?? 0
      const place = next[year] ?? 0
      next[year] = place + 1
      draw[place] = this.#draw[i] ?? 0
      amount[place] = this.#amount[i] ?? 0
    }
    this.#n = 0
    return { draw, amount, firstOfYear }
  }

  #grow(): void {
    const [draw, year, amount] = [this.#draw, this.#year, this.#amount]
    this.#draw = new Uint16Array(2 * draw.length)
    this.#year = new Uint8Array(2 * draw.length)
    this.#amount = new Float64Array(2 * draw.length)
    this.#draw.set(draw)
    this.#year.set(year)
    this.#amount.set(amount)
  }
}
