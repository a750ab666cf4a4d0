import type { LifeRows } from '../rows.ts'

/** Numbers of a row: start, after, before, count. */
const N_NUMBERS = 4

/** Labels of a row: batch, month. */
const N_LABELS = 2

/**
 * Rows as they are read, equal ones taken together, in the order in which each first occurs: memory grows with the
 * number of different rows. A hash table of row numbers finds the equal one.
 */
export class RowStore {
  #length = 0
  #numbers = new Float64Array(N_NUMBERS * 1024)
  #labels = new Int32Array(N_LABELS * 1024)
  /** Row number + 1 by place; 0: free. At most half full. */
  #table = new Int32Array(2048)
  readonly #pair = new Float64Array(1)
  readonly #words = new Uint32Array(this.#pair.buffer)

  /** Different rows so far. */
  get length(): number {
    return this.#length
  }

  /**
   * Adds one life.
   *
   * @param startAge - see `Rows`, as the others
   * @param batch - index of the batch, −1 if not given
   * @param month - month of installation, −1 if not given
   */
  add(startAge: number, afterAge: number, beforeAge: number, count: number, batch: number, month: number): void {
    const mask = this.#table.length - 1
    let place = this.#hash(startAge, afterAge, beforeAge, batch, month) & mask
    for (let row = this.#table[place] ?? 0; row > 0; row = this.#table[place] ?? 0) {
      const at = N_NUMBERS * (row - 1)
      const label = N_LABELS * (row - 1)
      if (
        this.#numbers[at] === startAge &&
        this.#numbers[at + 1] === afterAge &&
        this.#numbers[at + 2] === beforeAge &&
        this.#labels[label] === batch &&
        this.#labels[label + 1] === month
      ) {
        this.#numbers[at + 3] = (this.#numbers[at + 3] ?? 0) + count
        return
      }
      place = (place + 1) & mask
    }
    const at = N_NUMBERS * this.#length
    this.#numbers[at] = startAge
    this.#numbers[at + 1] = afterAge
    this.#numbers[at + 2] = beforeAge
    this.#numbers[at + 3] = count
    this.#labels[N_LABELS * this.#length] = batch
    this.#labels[N_LABELS * this.#length + 1] = month
    this.#length++
    this.#table[place] = this.#length
    if (2 * this.#length >= this.#table.length) this.#grow()
  }

  /** The rows. */
  rows(): LifeRows {
    const n = this.#length
    const rows: LifeRows = {
      startAges: new Float64Array(n),
      afterAges: new Float64Array(n),
      beforeAges: new Float64Array(n),
      counts: new Float64Array(n),
      batches: new Int32Array(n),
      months: new Int32Array(n),
    }
    for (let r = 0; r < n; r++) {
      rows.startAges[r] = this.#numbers[N_NUMBERS * r] ?? 0
      rows.afterAges[r] = this.#numbers[N_NUMBERS * r + 1] ?? 0
      rows.beforeAges[r] = this.#numbers[N_NUMBERS * r + 2] ?? 0
      rows.counts[r] = this.#numbers[N_NUMBERS * r + 3] ?? 0
      rows.batches[r] = this.#labels[N_LABELS * r] ?? -1
      rows.months[r] = this.#labels[N_LABELS * r + 1] ?? -1
    }
    return rows
  }

  #grow(): void {
    const numbers = new Float64Array(2 * this.#numbers.length)
    numbers.set(this.#numbers)
    this.#numbers = numbers
    const labels = new Int32Array(2 * this.#labels.length)
    labels.set(this.#labels)
    this.#labels = labels
    this.#table = new Int32Array(2 * this.#table.length)
    const mask = this.#table.length - 1
    for (let r = 0; r < this.#length; r++) {
      const at = N_NUMBERS * r
      const hash = this.#hash(
        numbers[at] ?? 0,
        numbers[at + 1] ?? 0,
        numbers[at + 2] ?? 0,
        labels[N_LABELS * r] ?? -1,
        labels[N_LABELS * r + 1] ?? -1,
      )
      let place = hash & mask
      while (this.#table[place] !== 0) place = (place + 1) & mask
      this.#table[place] = r + 1
    }
  }

  #hash(startAge: number, afterAge: number, beforeAge: number, batch: number, month: number): number {
    let hash = mix(batch + 0x9e3779b9, month)
    hash = this.#mixNumber(hash, startAge)
    hash = this.#mixNumber(hash, afterAge)
    return this.#mixNumber(hash, beforeAge)
  }

  #mixNumber(hash: number, value: number): number {
    this.#pair[0] = value
    return mix(mix(hash, this.#words[0] ?? 0), this.#words[1] ?? 0)
  }
}

/** One round of a multiplying hash (ours; only the spread over the table depends on it). */
function mix(hash: number, word: number): number {
  let mixed = Math.imul(hash ^ word, 0x85ebca6b)
  mixed ^= mixed >>> 15
  return Math.imul(mixed, 0xc2b2ae35) ^ (mixed >>> 13)
}
