import { type History, PLANNED } from '../history/history.ts'
import { type Claims, NOT_CLAIMED } from './claims.ts'
import type { OptionTerms } from './terms.ts'

/** Windows up to which insertion sorts quickest. */
const FEW = 32

/**
 * The outages of one lifetime: windows [failure, return + claim days], those of one slot joined and cut at the horizon
 * (O1, O6), soonest first. Memory that serves again and again.
 */
export class OutageWindows {
  n = 0
  /** Row of each window, in order of its start. */
  order = new Int32Array(256)
  /** By row: where its window starts and ends, years. */
  start = new Float64Array(1024)
  end = new Float64Array(1024)
  #spare = new Int32Array(256)

  /**
   * Opens the windows of the rows of a lifetime.
   *
   * @param history - the rows
   * @param from - first row of the lifetime
   * @param to - row after its last
   * @param terms - of the option
   * @param claims - a claimed failure is down for `claim_days` more
   */
  open(history: History, from: number, to: number, terms: OptionTerms, claims: Claims): void {
    this.n = 0
    if (to > this.start.length) {
      this.start = new Float64Array(2 * to)
      this.end = new Float64Array(2 * to)
    }
    if (to - from > this.order.length) {
      this.order = new Int32Array(2 * (to - from))
      this.#spare = new Int32Array(2 * (to - from))
    }
    for (let row = from; row < to; row++) {
      const unit = terms.units[history.place[row] ?? 0]
      if (unit === undefined) continue
      const before = history.before[row] ?? -1
      const earlier = before < 0 ? 0 : (this.end[before] ?? 0)
      const claimed = unit.claimYears > 0 && history.action[row] !== PLANNED && claims.parts[row] !== NOT_CLAIMED
      const start = Math.max(history.failedAt[row] ?? 0, earlier)
      const close = (history.returnedAt[row] ?? Infinity) + (claimed ? unit.claimYears : 0)
      const end = Math.max(Math.min(Math.max(close, start), terms.horizonYears), earlier)
      this.start[row] = start
      this.end[row] = end
      if (unit.role !== 'nothing' && end > start) this.order[this.n++] = row
    }
    if (this.n > 1) this.#sort()
  }

  #sort(): void {
    if (this.n > FEW) this.#merge(0, this.n)
    else this.#insert(0, this.n)
  }

  #insert(from: number, to: number): void {
    const { order, start } = this
    for (let i = from + 1; i < to; i++) {
      const row = order[i] ?? 0
      const at = start[row] ?? 0
      let j = i - 1
      while (j >= from && (start[order[j] ?? 0] ?? 0) > at) {
        order[j + 1] = order[j] ?? 0
        j--
      }
      order[j + 1] = row
    }
  }

  /** Halves sorted, then merged: many windows of a large plant, where the library's sort asks a function each time. */
  #merge(from: number, to: number): void {
    if (to - from <= FEW) {
      this.#insert(from, to)
      return
    }
    const middle = (from + to) >> 1
    this.#merge(from, middle)
    this.#merge(middle, to)
    const { order, start } = this
    const spare = this.#spare
    for (let i = from; i < middle; i++) spare[i] = order[i] ?? 0
    let left = from
    let right = middle
    for (let i = from; left < middle; i++) {
      const leftRow = spare[left] ?? 0
      const rightRow = order[right] ?? 0
      if (right < to && (start[rightRow] ?? 0) < (start[leftRow] ?? 0)) {
        order[i] = rightRow
        right++
      } else {
        order[i] = leftRow
        left++
      }
    }
  }
}
