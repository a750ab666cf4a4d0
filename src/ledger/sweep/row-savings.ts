import { CLAIM, NUMBERS, PLANNED } from '../../history/rows.ts'
import { FIRST_ROOM } from '../../numerics/first-room.ts'
import { GRANTED } from '../claims.ts'
import { claimGranted, letsVisitBeFree, ownersLabour, ownersParts, providerExists } from '../cover.ts'
import type { PricedHistory } from './staying-providers.ts'

/** The provider behind parts cover exists at detection (W5). */
export const PARTS_PROVIDER = 1
/** The provider behind labour cover exists at detection. */
export const LABOUR_PROVIDER = 2
/** A claim for parts would be granted (W4). */
export const WOULD_BE_GRANTED = 4

/**
 * What cover of one component can save the owner, whatever its term: one entry a row, present values. The memory is reused.
 */
export class RowSavings {
  /** The next row of the slot, or −1. */
  next = new Int32Array(FIRST_ROOM)
  /** Moment of detection, years; Infinity if no cover can apply: a planned replacement, or never detected. */
  detectedAt = new Float64Array(FIRST_ROOM)
  /** PARTS_PROVIDER + LABOUR_PROVIDER + WOULD_BE_GRANTED. */
  facts = new Uint8Array(FIRST_ROOM)
  /** Saved by a granted claim for parts. */
  byParts = new Float64Array(FIRST_ROOM)
  /** Saved by labour cover: labour, and call-out and access of a visit of its own. */
  byLabour = new Float64Array(FIRST_ROOM)
  /** Saved under the present terms. */
  now = new Float64Array(FIRST_ROOM)

  /**
   * Fills it.
   *
   * @param given - lifetimes, priced under the present terms
   * @param place - of the component
   */
  find({ history, terms, priced }: PricedHistory, place: number): void {
    const rows = history.rows[place]
    const unit = terms.units[place]
    const bills = priced.bills[place]
    const claims = priced.claims[place]
    if (rows === undefined || unit === undefined || bills === undefined || claims === undefined) return
    const { n, lane: laneOf, before, action, detectedAt: at, fittedAt, numbers, visit } = rows
    this.#reserve(n)
    const { next, detectedAt, facts, byParts, byLabour, now } = this
    const { parts: partsBills, labour: labourBills, visit: visitBills } = bills
    const { parts: presentParts, labour: presentLabour } = claims
    const { partsExits, labourExits } = history
    const { needsVisit, cover } = unit
    const tripsFree = needsVisit && letsVisitBeFree(cover, true)
    for (let row = 0; row < n; row++) {
      const earlier = before[row] as number // the row is there, as is its lane
      next[row] = -1
      if (earlier >= 0) next[earlier] = row
      const lane = laneOf[row] as number
      const detected = action[row] === PLANNED ? Infinity : (at[row] as number)
      const fitted = fittedAt[row] as number
      detectedAt[row] = detected
      facts[row] =
        (providerExists(partsExits, lane, fitted, detected) ? PARTS_PROVIDER : 0) +
        (providerExists(labourExits, lane, fitted, detected) ? LABOUR_PROVIDER : 0) +
        (claimGranted(cover, numbers[NUMBERS * row + CLAIM] as number) ? WOULD_BE_GRANTED : 0)
      const parts = partsBills[row] as number
      const labour = labourBills[row] as number
      const partsSaved = parts - ownersParts(cover, parts, true)
      const trip = tripsFree && (visit[row] as number) < 0 ? (visitBills[row] as number) : 0
      const labourSaved = labour - ownersLabour(cover, labour, true) + trip
      byParts[row] = partsSaved
      byLabour[row] = labourSaved
      now[row] = (presentParts[row] === GRANTED ? partsSaved : 0) + (presentLabour[row] === 1 ? labourSaved : 0)
    }
  }

  #reserve(rows: number): void {
    if (rows <= this.next.length) return
    const room = 2 * rows
    this.next = new Int32Array(room)
    this.detectedAt = new Float64Array(room)
    this.facts = new Uint8Array(room)
    this.byParts = new Float64Array(room)
    this.byLabour = new Float64Array(room)
    this.now = new Float64Array(room)
  }
}
