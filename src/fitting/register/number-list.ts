/** Whole numbers in a list that grows, four bytes each: memory of a million tickets. */
export class NumberList {
  #values = new Int32Array(1024)
  #length = 0

  /** How many. */
  get length(): number {
    return this.#length
  }

  /**
   * Adds one.
   *
   * @param value - whole, within 32 bits
   */
  push(value: number): void {
    if (this.#length === this.#values.length) {
      const values = new Int32Array(2 * this.#values.length)
      values.set(this.#values)
      this.#values = values
    }
    this.#values[this.#length++] = value
  }

  /**
   * One of them.
   *
   * @param index - from 0
   * @returns 0 beyond the end
   */
  at(index: number): number {
    return index < this.#length ? (this.#values[index] ?? 0) : 0
  }
}
