import type { Rows } from '../../history/rows.ts'
import { NOT_CLAIMED } from '../claims.ts'
import type { PricedHistory } from './staying-providers.ts'

/**
 * What the days of a claim lose in addition (O1), while the cover of one component and with it its claims change: one
 * look-up where the outage overlaps no other. The memory is reused.
 */
export class ClaimLosses {
  /** A claim changed whose outage overlaps others: the lifetime's outages have to be priced again. */
  meets = false
  #given: PricedHistory | null = null
  #place = 0
  // by row: present value that its days of claim lose, NaN until needed; whether it is claimed now
  #loss = new Float64Array(64)
  #claimed = new Uint8Array(64)

  /**
   * Loads some lifetimes.
   *
   * @param given - priced under the present terms
   * @param place - of the component
   * @param rows - how many it has
   */
  begin(given: PricedHistory, place: number, rows: number): void {
    this.#given = given
    this.#place = place
    if (this.#loss.length < rows) {
      this.#loss = new Float64Array(2 * rows)
      this.#claimed = new Uint8Array(2 * rows)
    }
    this.#loss.fill(Number.NaN, 0, rows)
  }

  /** Resets a row to its claim under the present terms. */
  startAt(row: number): void {
    this.#claimed[row] = this.#given?.priced.claims[this.#place]?.parts[row] === NOT_CLAIMED ? 0 : 1
  }

  /**
   * Sets whether a row is claimed under the cover being priced.
   *
   * @param rows - of the component
   * @param row - which
   * @param lane - its lifetime
   * @param claimed - under the cover being priced
   * @returns increase of the value lost; 0 where `meets` is set
   */
  turn(rows: Rows, row: number, lane: number, claimed: boolean): number {
    if (claimed === (this.#claimed[row] === 1)) return 0
    this.#claimed[row] = claimed ? 1 : 0
    const loss = this.#lossOf(rows, row, lane)
    return claimed ? loss : -loss
  }

  #lossOf(rows: Rows, row: number, lane: number): number {
    const known = this.#loss[row] as number // begun with NaN
    if (!Number.isNaN(known)) return known
    const given = this.#given
    const unit = given?.terms.units[this.#place]
    if (given === null || unit === undefined) return 0
    const { horizonYears } = given.terms
    const returnedAt = rows.returnedAt[row] as number
    const from = Math.min(returnedAt, horizonYears)
    const to = Math.min(returnedAt + unit.claimYears, horizonYears)
    let loss = 0
    if (unit.role !== 'nothing' && from !== to) {
      if (rows.takesString[row] === 1 || !given.priced.outages.windows.staysAlone(this.#place, row, to)) {
        this.meets = true
        return 0
      }
      const failedAt = rows.failedAt[row] as number
      loss = this.#lossUntil(given, lane, failedAt, to) - this.#lossUntil(given, lane, failedAt, from)
    }
    this.#loss[row] = loss
    return loss
  }

  /** Present value of what one unit of the component loses alone. */
  #lossUntil({ priced, tables }: PricedHistory, lane: number, from: number, to: number): number {
    return to <= from ? 0 : priced.outages.lossAlone(tables, this.#place, lane, from, to)
  }
}
