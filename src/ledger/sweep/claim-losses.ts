import type { Rows } from '../../history/rows.ts'
import { FIRST_ROOM } from '../../numerics/first-room.ts'
import { Claims, GRANTED, NOT_CLAIMED } from '../claims.ts'
import { OutageRuns } from './outage-runs.ts'
import type { PricedHistory } from './staying-providers.ts'
import type { TermSteps } from './term-steps.ts'

/** Terms are below this number (`TermSteps`). */
const TERMS = 64

/**
 * What the days of a claim lose in addition (O1), while the cover of one component and with it its claims change: one
 * look-up where the outage overlaps no other, else the outages of its run are priced again. The memory is reused.
 */
export class ClaimLosses {
  #given: PricedHistory | null = null
  #place = 0
  /** By population; those of the component are under the cover being priced. */
  #claims: Claims[] = []
  readonly #own = new Claims()
  /** Decided for the component under the present terms. */
  #present = new Uint8Array(0)
  readonly #runs = new OutageRuns()
  /** By row: present value that its days of claim lose; NaN until needed. */
  #loss = new Float64Array(FIRST_ROOM)
  // changes of claims whose outages may overlap others: run × TERMS + term, and the row
  #n = 0
  #when = new Int32Array(FIRST_ROOM)
  #row = new Int32Array(FIRST_ROOM)

  /**
   * Loads some lifetimes.
   *
   * @param given - priced under the present terms
   * @param claims - by population; those of the component are not read
   * @param place - of the component
   */
  begin(given: PricedHistory, claims: readonly Claims[], place: number): void {
    const { history, terms, priced } = given
    const n = history.rows[place]?.n ?? 0
    this.#given = given
    this.#place = place
    this.#present = priced.claims[place]?.parts ?? this.#present
    this.#claims = [...claims]
    this.#claims[place] = this.#own
    this.#own.reserve(n)
    if (this.#loss.length < n) this.#loss = new Float64Array(2 * n)
    this.#loss.fill(Number.NaN, 0, n)
    this.#runs.find(history, terms, priced.outages.windows, place)
    priced.outages.windows.beginAnew(history)
  }

  /** Resets a row to its claim under the present terms. */
  startAt(row: number): void {
    this.#own.parts[row] = this.#present[row] as number // the row is there
  }

  /**
   * Sets whether a row is claimed from a term on.
   *
   * @param rows - of the component
   * @param row - which
   * @param lane - its lifetime
   * @param claimed - under the cover of the term
   * @param term - which
   * @returns increase of the value lost; 0 where `enterRuns` enters it
   */
  turn(rows: Rows, row: number, lane: number, claimed: boolean, term: number): number {
    const { parts } = this.#own
    if (claimed === (parts[row] !== NOT_CLAIMED)) return 0
    parts[row] = claimed ? GRANTED : NOT_CLAIMED
    if (rows.takesString[row] === 0 && this.#runs.alone(row)) {
      const loss = this.#lossOf(rows, row, lane)
      return claimed ? loss : -loss
    }
    this.#note(row, term)
    return 0
  }

  /**
   * Enters what changed claims of a lifetime lose where outages may overlap.
   *
   * @param lane - the lifetime
   * @param steps - of it, added to
   */
  enterRuns(lane: number, steps: TermSteps): void {
    const n = this.#n
    this.#n = 0
    this.#sort(n)
    const { parts } = this.#own
    for (let i = 0; i < n; i++) this.startAt(this.#row[i] as number) // noted
    for (let i = 0; i < n; ) {
      const run = this.#runs.of[this.#row[i] as number] as number
      const present = this.#lossOfRun(run, lane)
      let lost = present
      // number of rows whose claim differs from that under the present terms
      let others = 0
      while (i < n && Math.floor((this.#when[i] as number) / TERMS) === run) {
        const when = this.#when[i] as number
        for (; i < n && this.#when[i] === when; i++) {
          const row = this.#row[i] as number
          parts[row] = parts[row] === NOT_CLAIMED ? GRANTED : NOT_CLAIMED
          others += (parts[row] === NOT_CLAIMED) === (this.#present[row] === NOT_CLAIMED) ? -1 : 1
        }
        const lostThere = others === 0 ? present : this.#lossOfRun(run, lane)
        steps.add(when % TERMS, 0, lostThere - lost)
        lost = lostThere
      }
    }
  }

  #note(row: number, term: number): void {
    if (this.#n === this.#row.length) this.#grow()
    const i = this.#n++
    this.#when[i] = TERMS * (this.#runs.of[row] as number) + term
    this.#row[i] = row
  }

  /** By run, then by term. */
  #sort(n: number): void {
    const when = this.#when
    const row = this.#row
    for (let i = 1; i < n; i++) {
      const at = when[i] as number // all are there
      const own = row[i] as number
      let j = i
      for (; j > 0 && (when[j - 1] as number) > at; j--) {
        when[j] = when[j - 1] as number
        row[j] = row[j - 1] as number
      }
      when[j] = at
      row[j] = own
    }
  }

  #lossOfRun(run: number, lane: number): number {
    if (this.#given === null) return 0
    const { history, terms, tables, priced } = this.#given
    return priced.outages.lossAnew(history, terms, tables, this.#claims, lane, run, this.#runs.end[run] as number)
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
    if (from !== to) {
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

  #grow(): void {
    const [when, row] = [this.#when, this.#row]
    this.#when = new Int32Array(2 * when.length)
    this.#row = new Int32Array(2 * row.length)
    this.#when.set(when)
    this.#row.set(row)
  }
}
