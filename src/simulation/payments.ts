/** Payments of many draws beyond their yearly cost, undiscounted: columns that grow. */
export class Payments {
  #n = 0
  #draw = new Int32Array(1024)
  #year = new Uint8Array(1024)
  #amount = new Float64Array(1024)

  /** Adds a payment. */
  add(draw: number, year: number, amount: number): void {
    const i = this.#n++
    if (i >= this.#draw.length) this.#grow()
    this.#draw[i] = draw
    this.#year[i] = year
    this.#amount[i] = amount
  }

  /** All payments, in the order in which they were added, in memory of their own; none are left. */
  take(): { readonly draw: Int32Array; readonly year: Uint8Array; readonly amount: Float64Array } {
    const n = this.#n
    this.#n = 0
    return { draw: this.#draw.slice(0, n), year: this.#year.slice(0, n), amount: this.#amount.slice(0, n) }
  }

  #grow(): void {
    const [draw, year, amount] = [this.#draw, this.#year, this.#amount]
    this.#draw = new Int32Array(2 * draw.length)
    this.#year = new Uint8Array(2 * draw.length)
    this.#amount = new Float64Array(2 * draw.length)
    this.#draw.set(draw)
    this.#year.set(year)
    this.#amount.set(amount)
  }
}
