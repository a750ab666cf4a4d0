import type { History } from '../history/history.ts'
import type { Rows } from '../history/rows.ts'
import { Accounts } from './accounts.ts'
import { Claims, decideClaim, decidePopulation, type Exits, GRANTED, NOT_CLAIMED, STAYING } from './claims.ts'
import { letsVisitBeFree, originalEnd, ownersLabour, ownersParts, providerExists } from './cover.ts'
import type { EnergyTables } from './energy-tables.ts'
import type { Priced } from './price-lifetimes.ts'
import type { RowBills } from './repairs.ts'
import { SharedVisits } from './shared-visits.ts'
import { TermSteps } from './term-steps.ts'
import type { CoverTerms, OptionTerms, UnitTerms } from './terms.ts'
import { VisitBills } from './visit-bills.ts'

/** Lifetimes as they were priced under the present terms. */
export interface PricedHistory {
  readonly history: History
  readonly terms: OptionTerms
  readonly tables: EnergyTables
  readonly priced: Priced
}

/**
 * Prices lifetimes again under other cover of one component (V1, W6). Bills are known, so a row costs one decision at
 * each term at which it may turn: slot by slot, from turn to turn. A claim that is made or not makes an outage longer or
 * shorter; where that meets no other it is one look-up, else the outages of the lifetime are lost anew.
 */
export class OtherCover {
  /** Steps of the lifetime in hand from term to term; the first one is from the present terms to term 0. */
  readonly steps: TermSteps
  readonly #place: number
  readonly #scratch: Accounts
  readonly #visits = new SharedVisits()
  #given: PricedHistory | null = null
  #rows: Rows | null = null
  #unit: UnitTerms | null = null
  #exits: Exits = STAYING
  /** Claims by population; those of the component are the ones in hand. */
  #claims: Claims[] = []
  readonly #own = new Claims()
  readonly #staying: Claims[] = []
  // by row: the next row of its slot or −1; what the owner pays under the present cover; what the days of a claim lose;
  // whether it is claimed under the cover in hand
  #next = new Int32Array(64)
  #paidNow = new Float64Array(64)
  #claimLoss = new Float64Array(64)
  #claimed = new Uint8Array(64)
  /** The lifetime in hand, and its original rows. */
  #lane = -1
  #from = 0
  #to = 0
  /** A claim turned whose outage meets others. */
  #meets = false
  /** By lane: 1 where a claim of another component turned once providers stay. */
  #moved = new Uint8Array(0)

  /**
   * @param place - of the component
   * @param horizonYears - years
   */
  constructor(place: number, horizonYears: number) {
    this.#place = place
    this.#scratch = new Accounts(horizonYears)
    this.steps = new TermSteps(horizonYears + 1)
  }

  /**
   * Takes up some lifetimes, with providers as they are.
   *
   * @param given - priced under the present terms
   */
  begin(given: PricedHistory): void {
    const { history, terms, priced } = given
    const rows = history.rows[this.#place] ?? null
    const unit = terms.units[this.#place] ?? null
    const claims = priced.claims[this.#place]
    const bills = priced.bills[this.#place]
    this.#given = given
    this.#rows = rows
    this.#unit = unit
    if (rows === null || unit === null || claims === undefined || bills === undefined) return
    this.#own.reserve(rows.n)
    if (this.#next.length < rows.n) {
      this.#next = new Int32Array(2 * rows.n)
      this.#paidNow = new Float64Array(2 * rows.n)
      this.#claimLoss = new Float64Array(2 * rows.n)
      this.#claimed = new Uint8Array(2 * rows.n)
    }
    linkSlots(rows, this.#next)
    for (let row = 0; row < rows.n; row++) this.#paidNow[row] = ownerPays(rows, row, unit, unit.cover, claims, bills)
    this.#claimLoss.fill(Number.NaN, 0, rows.n)
    this.#moved.fill(0)
    this.#takeUp(history, [...priced.claims])
  }

  /** Takes the lifetimes up again as if no provider ever left (V3): `paidByOthers` then says what others pay less. */
  stay(): void {
    const given = this.#given
    if (given === null) return
    const claims = given.terms.units.map(({ cover }, place) => {
      const own = this.#staying[place] ?? new Claims()
      this.#staying[place] = own
      decidePopulation(given.history, place, cover, STAYING, own)
      return own
    })
    this.#takeUp(STAYING, claims)
  }

  #takeUp(exits: Exits, claims: Claims[]): void {
    const given = this.#given
    this.#exits = exits
    this.#claims = claims
    this.#claims[this.#place] = this.#own
    this.#lane = -1
    this.#from = 0
    this.#to = 0
    if (given !== null) this.#visits.begin(given.history, given.terms, this.#claims, this.#place)
  }

  /**
   * Goes to a lifetime; they are taken in order.
   *
   * @param lane - the lifetime
   * @returns whether the component has rows in it; without, no cover of it changes anything
   */
  goTo(lane: number): boolean {
    const rows = this.#rows
    if (rows === null) return false
    this.#lane = lane
    this.#from = this.#to
    // original rows come first, lifetime after lifetime
    while (this.#to < rows.n && rows.before[this.#to] === -1 && rows.lane[this.#to] === lane) this.#to++
    return this.#to > this.#from
  }

  /** Whether the provider of any unit of the component in the lifetime had left when its failure was detected. */
  get providerMissed(): boolean {
    const rows = this.#rows
    const history = this.#given?.history
    if (rows === null || history === undefined) return false
    const parts = history.partsExits[this.#lane] ?? []
    const labour = history.labourExits[this.#lane] ?? []
    if (parts.length + labour.length === 0) return false
    for (let first = this.#from; first < this.#to; first++) {
      for (let row = first; row >= 0; row = this.#next[row] as number) {
        const fittedAt = rows.fittedAt[row] as number // the row is there
        const at = rows.detectedAt[row] as number
        if (!providerExists(parts, fittedAt, at) || !providerExists(labour, fittedAt, at)) return true
      }
    }
    return false
  }

  /**
   * Prices the lifetime under every term in order: fills `steps`.
   *
   * @param covers - of the component, one a term: years 0, 1, …, with labour years that are as many or all alike; in all
   * else as the present one
   */
  walk(covers: readonly CoverTerms[]): void {
    this.steps.clear()
    this.#meets = this.#moved[this.#lane] === 1
    this.#claimedNow()
    for (let row = this.#from; row < this.#to; row++) this.#walkSlot(row, covers)
    const visits = this.#visits.has(this.#lane)
    if (this.#meets || visits) this.#walkAnew(covers, visits)
  }

  /**
   * Prices the lifetime under two covers (W6).
   *
   * @param present - of the component
   * @param other - in its place
   * @returns by how much the owner pays and loses less under the other
   */
  worth(present: CoverTerms, other: CoverTerms): number {
    this.walk([present])
    const before = this.steps.paid[0] ?? 0
    const lostBefore = this.steps.lost[0] ?? 0
    this.walk([other])
    return before + lostBefore - (this.steps.paid[0] ?? 0) - (this.steps.lost[0] ?? 0)
  }

  /** Present claims of the rows of the lifetime. */
  #claimedNow(): void {
    const claims = this.#given?.priced.claims[this.#place]
    for (let first = this.#from; first < this.#to; first++) {
      for (let row = first; row >= 0; row = this.#next[row] as number) {
        this.#claimed[row] = claims?.parts[row] === NOT_CLAIMED ? 0 : 1
      }
    }
  }

  /** From term to term at which a decision of the slot may turn. */
  #walkSlot(first: number, covers: readonly CoverTerms[]): void {
    const rows = this.#rows
    const unit = this.#unit
    const bills = this.#given?.priced.bills[this.#place]
    const starts = this.#given?.history.starts[this.#place]
    if (rows === null || unit === null || bills === undefined || starts === undefined) return
    const ageYears = starts.ageYears[this.#lane] as number // every lane has one
    const own = this.#own
    let before = 0
    for (let row = first; row >= 0; row = this.#next[row] as number) before += this.#paidNow[row] as number
    for (let term = 0; term < covers.length; ) {
      const cover = covers[term] as CoverTerms
      // an end of cover moves with the term at most year by year, so a row stays uncovered for as long as it is late; the
      // clock of labour grows only while it is that of parts, and so turns no decision of its own
      let late = Infinity
      let paid = 0
      let lost = 0
      let earlier = -1
      for (let row = first; row >= 0; row = this.#next[row] as number) {
        decideClaim(rows, row, earlier, ageYears, cover, this.#exits, own)
        paid += ownerPays(rows, row, unit, cover, own, bills)
        const claimed = own.parts[row] === NOT_CLAIMED ? 0 : 1
        if (claimed !== this.#claimed[row]) {
          this.#claimed[row] = claimed
          if (unit.claimYears > 0) lost += claimed === 1 ? this.#lossOf(row) : -this.#lossOf(row)
        }
        const end = earlier < 0 ? originalEnd(cover.years, ageYears) : (own.partsEnd[earlier] as number)
        const partsLate = (rows.detectedAt[row] as number) - end
        if (partsLate >= 0 && partsLate < late) late = partsLate
        earlier = row
      }
      this.steps.add(term, paid - before, lost)
      before = paid
      // a hair sooner than the sum says: its last digit is not sure
      const holdsUntil = cover.years + late - 1e-9
      if (holdsUntil >= covers.length) return
      term = Math.max(term, Math.floor(holdsUntil)) + 1
    }
  }

  /** Present value of what the days of a claim lose more, where the outage meets no other; marks the lifetime where it does. */
  #lossOf(row: number): number {
    const known = this.#claimLoss[row] as number // begun with NaN
    if (!Number.isNaN(known)) return known
    const given = this.#given
    const rows = this.#rows
    const unit = this.#unit
    if (given === null || rows === null || unit === null) return 0
    const { horizonYears } = given.terms
    const returnedAt = rows.returnedAt[row] as number
    const from = Math.min(returnedAt, horizonYears)
    const to = Math.min(returnedAt + unit.claimYears, horizonYears)
    if (unit.role === 'nothing' || from === to) return this.#keepLoss(row, 0)
    if (rows.takesString[row] === 1 || !given.priced.outages.windows.staysAlone(this.#place, row, to)) {
      this.#meets = true
      return 0
    }
    const failedAt = rows.failedAt[row] as number
    return this.#keepLoss(row, this.#lossFrom(failedAt, to) - this.#lossFrom(failedAt, from))
  }

  /** Present value of what one unit of the component loses alone. */
  #lossFrom(from: number, to: number): number {
    const given = this.#given
    if (given === null || to <= from) return 0
    this.#scratch.begin(1)
    given.priced.outages.loseAlone(given.tables, this.#place, this.#lane, from, to, this.#scratch)
    return this.#scratch.lostOf(0)
  }

  #keepLoss(row: number, loss: number): number {
    this.#claimLoss[row] = loss
    return loss
  }

  /** At every term at which anything turned, what hangs on the lifetime as a whole: outages that meet, shared visits. */
  #walkAnew(covers: readonly CoverTerms[], visits: boolean): void {
    const given = this.#given
    const rows = this.#rows
    if (given === null || rows === null) return
    const { history, terms, tables, priced } = given
    const presentLost = priced.accounts.lostOf(this.#lane)
    const claims = priced.claims[this.#place]
    let lost = presentLost
    let paid = 0
    if (visits && this.#unit !== null && claims !== undefined) {
      paid = this.#visits.paid(this.#lane, rows, this.#ownRows(), this.#unit.cover, claims)
    }
    for (let term = this.steps.next(0); term >= 0; term = this.steps.next(term + 1)) {
      const cover = covers[term] as CoverTerms
      this.#decide(cover)
      if (this.#meets) {
        this.#scratch.begin(1)
        priced.outages.loseAnew(history, terms, tables, this.#claims, this.#lane, this.#scratch)
        const lostThere = this.#scratch.lostOf(0)
        this.steps.lost[term] = lostThere - lost
        lost = lostThere
      }
      if (visits) {
        const paidThere = this.#visits.paid(this.#lane, rows, this.#ownRows(), cover, this.#own)
        this.steps.add(term, paidThere - paid, 0)
        paid = paidThere
      }
    }
  }

  /** Decides all rows of the component in the lifetime. */
  #decide(cover: CoverTerms): void {
    const rows = this.#rows
    const starts = this.#given?.history.starts[this.#place]
    if (rows === null || starts === undefined) return
    const ageYears = starts.ageYears[this.#lane] as number // every lane has one
    for (let first = this.#from; first < this.#to; first++) {
      let earlier = -1
      for (let row = first; row >= 0; row = this.#next[row] as number) {
        decideClaim(rows, row, earlier, ageYears, cover, this.#exits, this.#own)
        earlier = row
      }
    }
  }

  *#ownRows(): Generator<number> {
    for (let first = this.#from; first < this.#to; first++) {
      for (let row = first; row >= 0; row = this.#next[row] as number) yield row
    }
  }

  /**
   * By how much the owner pays less for all other components once providers stay.
   *
   * @param out - by lane, filled
   */
  savedByStaying(out: Float64Array): void {
    const given = this.#given
    out.fill(0)
    if (given === null) return
    const { history, terms, priced } = given
    this.#moved.fill(0)
    if (this.#moved.length < history.n) this.#moved = new Uint8Array(history.n)
    terms.units.forEach((unit, place) => {
      const rows = history.rows[place]
      const asIs = priced.claims[place]
      const staying = this.#claims[place]
      const bills = priced.bills[place]
      if (place === this.#place || rows === undefined || asIs === undefined || staying === undefined) return
      if (bills === undefined) return
      for (let row = 0; row < rows.n; row++) {
        if (asIs.parts[row] === staying.parts[row] && asIs.labour[row] === staying.labour[row]) continue
        const lane = rows.lane[row] ?? 0
        const less =
          ownerPays(rows, row, unit, unit.cover, asIs, bills) - ownerPays(rows, row, unit, unit.cover, staying, bills)
        out[lane] = (out[lane] ?? 0) + less
        if (unit.claimYears > 0 && asIs.parts[row] === NOT_CLAIMED && staying.parts[row] !== NOT_CLAIMED) {
          this.#moved[lane] = 1
        }
      }
    })
    if (history.nVisits > 0 && terms.units.some(({ cover }) => cover.visitsCovered)) this.#saveVisits(given, out)
  }

  /** Visits of several units that are free once the providers of other components stay. */
  #saveVisits({ history, terms, priced }: PricedHistory, out: Float64Array): void {
    const asIs = new VisitBills()
    const staying = new VisitBills()
    asIs.gather(history, terms, priced.claims)
    staying.gather(
      history,
      terms,
      this.#claims.map((claims, place) => (place === this.#place ? (priced.claims[place] ?? claims) : claims)),
    )
    for (let visit = 0; visit < history.nVisits; visit++) {
      const at = asIs.returnedAt[visit] ?? 0
      if (at > terms.horizonYears || asIs.free[visit] === staying.free[visit]) continue
      const lane = asIs.lane[visit] ?? 0
      const price = asIs.priceOf(visit, terms) * terms.labourGrowth.at(at) * terms.discount.at(at)
      out[lane] = (out[lane] ?? 0) + price
    }
  }
}

/** Gives every row the next one of its slot, or −1. */
function linkSlots({ n, before }: Rows, next: Int32Array): void {
  for (let row = 0; row < n; row++) {
    const earlier = before[row] as number // the row is there
    next[row] = -1
    if (earlier >= 0) next[earlier] = row
  }
}

/** Parts, labour, and call-out and access of a visit of its own (W4). */
function ownerPays(
  rows: Rows,
  row: number,
  unit: UnitTerms,
  cover: CoverTerms,
  claims: Claims,
  bills: RowBills,
): number {
  const covered = claims.labour[row] === 1
  const paid =
    ownersParts(cover, bills.parts[row] as number, claims.parts[row] === GRANTED) + // the row is there
    ownersLabour(cover, bills.labour[row] as number, covered)
  if (!unit.needsVisit || (rows.visit[row] as number) >= 0) return paid
  return letsVisitBeFree(cover, covered) ? paid : paid + (bills.visit[row] as number)
}
