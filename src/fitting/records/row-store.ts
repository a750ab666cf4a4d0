import type { Rows } from '../rows.ts'

/**
 * Rows as they are read, equal ones taken together: the room they take goes with the number of different rows.
 */
export class RowStore {
  #length = 0
  #numbers = new Float64Array(4 * 1024)
  #labels = new Int32Array(2 * 1024)
  /** Off once merging has found almost nothing equal. */
  #merging = true

  /** Different rows so far. */
  get length(): number {
    return this.#length
  }

  /**
   * Adds one life.
   *
   * @param startAge - see `Rows`, as the others
   * @param batch - index of the batch, −1 if not told
   * @param month - month of installation, −1 if not told
   */
  add(startAge: number, afterAge: number, beforeAge: number, count: number, batch: number, month: number): void {
    if (4 * this.#length === this.#numbers.length) this.#makeRoom()
    const at = 4 * this.#length
    this.#numbers[at] = startAge
    this.#numbers[at + 1] = afterAge
    this.#numbers[at + 2] = beforeAge
    this.#numbers[at + 3] = count
    this.#labels[2 * this.#length] = batch
    this.#labels[2 * this.#length + 1] = month
    this.#length++
  }

  /** The rows, equal ones merged. */
  rows(): Rows {
    if (this.#merging) this.#merge()
    const n = this.#length
    const rows: Rows = {
      startAges: new Float64Array(n),
      afterAges: new Float64Array(n),
      beforeAges: new Float64Array(n),
      counts: new Float64Array(n),
      batches: new Int32Array(n),
      months: new Int32Array(n),
    }
    for (let r = 0; r < n; r++) {
      rows.startAges[r] = this.#numbers[4 * r] ?? 0
      rows.afterAges[r] = this.#numbers[4 * r + 1] ?? 0
      rows.beforeAges[r] = this.#numbers[4 * r + 2] ?? 0
      rows.counts[r] = this.#numbers[4 * r + 3] ?? 0
      rows.batches[r] = this.#labels[2 * r] ?? -1
      rows.months[r] = this.#labels[2 * r + 1] ?? -1
    }
    return rows
  }

  #makeRoom(): void {
    const before = this.#length
    if (this.#merging && before >= 16 * 1024) {
      this.#merge()
      if (this.#length < 0.5 * before) return
      if (this.#length > 0.9 * before) this.#merging = false
    }
    const numbers = new Float64Array(2 * this.#numbers.length)
    numbers.set(this.#numbers)
    this.#numbers = numbers
    const labels = new Int32Array(2 * this.#labels.length)
    labels.set(this.#labels)
    this.#labels = labels
  }

  #merge(): void {
    const n = this.#length
    const numbers = this.#numbers
    const labels = this.#labels
    const compare = (a: number, b: number): number =>
      (numbers[4 * a + 1] ?? 0) - (numbers[4 * b + 1] ?? 0) ||
      compareEnds(numbers[4 * a + 2] ?? 0, numbers[4 * b + 2] ?? 0) ||
      (numbers[4 * a] ?? 0) - (numbers[4 * b] ?? 0) ||
      (labels[2 * a] ?? 0) - (labels[2 * b] ?? 0) ||
      (labels[2 * a + 1] ?? 0) - (labels[2 * b + 1] ?? 0)
    const order = Uint32Array.from({ length: n }, (_, r) => r).sort(compare)
    const mergedNumbers = new Float64Array(numbers.length)
    const mergedLabels = new Int32Array(labels.length)
    let kept = 0
    let last = -1
    for (const row of order) {
      if (last >= 0 && compare(last, row) === 0) {
        const at = 4 * (kept - 1) + 3
        mergedNumbers[at] = (mergedNumbers[at] ?? 0) + (numbers[4 * row + 3] ?? 0)
      } else {
        mergedNumbers.set(numbers.subarray(4 * row, 4 * row + 4), 4 * kept)
        mergedLabels.set(labels.subarray(2 * row, 2 * row + 2), 2 * kept)
        kept++
      }
      last = row
    }
    this.#numbers = mergedNumbers
    this.#labels = mergedLabels
    this.#length = kept
  }
}

/** Infinity − Infinity is no number. */
function compareEnds(a: number, b: number): number {
  return a === b ? 0 : a - b
}
