import type { SharedChance } from '../history/chance.ts'
import type { History } from '../history/history.ts'
import type { Stretch } from '../history/lifetimes.ts'
import { Accounts } from './accounts.ts'
import { Claims, decideClaim, GRANTED, NOT_CLAIMED } from './claims.ts'
import { originalPartsEnd, ownersLabour, ownersParts, providerExists } from './cover.ts'
import { loseOutages } from './outage-energy.ts'
import { payRepairs, type RowBills } from './repairs.ts'
import type { CoverTerms, EnergySupply, OptionTerms, UnitTerms } from './terms.ts'

/** Lifetimes as they were priced under the present terms. */
export interface PricedLifetimes {
  readonly stretch: Stretch
  readonly terms: OptionTerms
  readonly accounts: Accounts
  readonly claims: Claims
  readonly bills: RowBills
}

/**
 * Prices a lifetime again under other cover of one component (V1, W6). Only its rows can change: their bills are known, so a
 * term costs one decision for each row whose detection passes an end of cover, and outages are lost anew only where
 * another claim makes one longer.
 */
export class OtherCover {
  /** Present value of what the owner pays for repairs, and of the energy and battery value lost to outages. */
  paid = 0
  lost = 0
  readonly #place: number
  readonly #supply: EnergySupply
  readonly #accounts: Accounts
  readonly #claims = new Claims()
  readonly #slots = new ComponentSlots()
  #priced: PricedLifetimes | null = null
  /** The lifetime in hand, and its rows. */
  #lifetime = 0
  #from = 0
  #to = 0
  /** Exits in force. */
  #exits: Exits = STAYING
  /** What the owner pays for all rows but those of the component, visits included. */
  #paidForOthers = 0

  /**
   * @param place - of the component
   * @param supply - energy of the option
   * @param horizonYears - years
   */
  constructor(place: number, supply: EnergySupply, horizonYears: number) {
    this.#place = place
    this.#supply = supply
    this.#accounts = new Accounts(horizonYears)
  }

  /**
   * Takes up a lifetime.
   *
   * @param priced - lifetimes priced under the present terms
   * @param lifetime - which of them
   * @returns whether the component has rows; without, no cover of it changes anything
   */
  begin(priced: PricedLifetimes, lifetime: number): boolean {
    const { stretch, accounts, claims } = priced
    const { history, firstRow } = stretch.lifetimes
    this.#priced = priced
    this.#lifetime = lifetime
    this.#from = firstRow[lifetime] ?? 0
    this.#to = firstRow[lifetime + 1] ?? 0
    const repairs = accounts.repairsOf(lifetime - stretch.first)
    this.paid = repairs
    this.lost = accounts.lostOf(lifetime - stretch.first)
    if (this.#from === this.#to) return false
    this.#exits = stretch.lifetimes.chanceOf(lifetime)
    this.#slots.find(history, this.#from, this.#to, this.#place)
    copyDecisions(claims, this.#claims, this.#from, this.#to)
    this.#paidForOthers = repairs - this.#payRows(priced)
    return this.#slots.nRows > 0
  }

  /** Whether any unit's provider had left when its failure was detected: else it does not matter who stays. */
  get providerMissed(): boolean {
    if (this.#priced === null || this.#from === this.#to) return false
    const { lifetimes } = this.#priced.stretch
    return providerMissed(lifetimes.history, this.#from, this.#to, lifetimes.chanceOf(this.#lifetime))
  }

  /** From here on as if no provider ever left (V3); worth the while only where one was missed. */
  ifProvidersStay(): void {
    const priced = this.#priced
    if (priced === null || !this.providerMissed) return
    const { terms, bills } = priced
    const { history } = priced.stretch.lifetimes
    const claims = this.#claims
    this.#exits = STAYING
    let paid = this.#paidForOthers
    let claimsMoved = false
    for (let row = this.#from; row < this.#to; row++) {
      const unit = terms.units[history.place[row] ?? 0]
      if (unit === undefined) continue
      const others = history.place[row] !== this.#place
      if (others) paid -= ownerPays(claims, bills, row, unit.cover)
      const claimed = claims.parts[row] !== NOT_CLAIMED
      decideClaim(history, row, unit, unit.cover, STAYING, claims)
      if (others) paid += ownerPays(claims, bills, row, unit.cover)
      if (unit.claimYears > 0 && claimed !== (claims.parts[row] !== NOT_CLAIMED)) claimsMoved = true
    }
    const ofRows = this.#payRows(priced)
    if (terms.units.some(unit => unit.cover.visitsCovered)) {
      this.#payAll(priced, terms)
      paid = this.paid - ofRows
    }
    this.#paidForOthers = paid
    this.paid = paid + ofRows
    if (claimsMoved) this.#lose(priced)
  }

  /**
   * Prices the lifetime under another cover of the component: sets `paid` and `lost`.
   *
   * @param cover - of the component
   */
  price(cover: CoverTerms): void {
    this.#slots.holdsUntil.fill(-Infinity, 0, this.#slots.nSlots)
    this.prolong(cover)
  }

  /**
   * Prices the lifetime under the cover it has, made longer: only slots in which a decision may turn are looked at.
   *
   * @param cover - that of the latest `price` or `prolong` with more years, and with labour years that are either as
   * many or, in both, as many as its years
   */
  prolong(cover: CoverTerms): void {
    const priced = this.#priced
    const unit = priced?.terms.units[this.#place]
    if (priced === null || unit === undefined || this.#slots.nRows === 0) return
    const { holdsUntil, nSlots } = this.#slots
    let decided = false
    let claimsMoved = false
    for (let slot = 0; slot < nSlots; slot++) {
      if (cover.years <= (holdsUntil[slot] ?? 0)) continue
      if (this.#decideSlot(priced, unit, slot, cover)) claimsMoved = true
      decided = true
    }
    if (!decided) return
    // cover of visits hangs on all units of the visit
    if (cover.visitsCovered) this.#payAll(priced, withCover(priced.terms, this.#place, cover))
    else this.paid = this.#paidForOthers + this.#slots.paid()
    if (claimsMoved && unit.claimYears > 0) this.#lose(priced)
  }

  /** Longest parts term, years, under which every decision stays as it is; Infinity: under all that are longer. */
  get holdsUntil(): number {
    const { holdsUntil, nSlots } = this.#slots
    let least = Infinity
    for (let slot = 0; slot < nSlots; slot++) least = Math.min(least, holdsUntil[slot] ?? 0)
    return least
  }

  /** Decides the rows of one slot; says whether any is claimed that was not, or the other way round. */
  #decideSlot({ stretch, bills }: PricedLifetimes, unit: UnitTerms, slot: number, cover: CoverTerms): boolean {
    const { history } = stretch.lifetimes
    const claims = this.#claims
    const slots = this.#slots
    // an end of cover moves with the term at most year by year, so a row stays uncovered for as long as it is late; the
    // clock of labour grows only while it is that of parts, and so turns no decision of its own
    let late = Infinity
    let moved = false
    let before = -1
    for (let row = slots.firstRow[slot] ?? -1; row >= 0; row = slots.nextRow[row] ?? -1) {
      const claimed = claims.parts[row] !== NOT_CLAIMED
      decideClaim(history, row, unit, cover, this.#exits, claims)
      if (claimed !== (claims.parts[row] !== NOT_CLAIMED)) moved = true
      slots.rowPaid[row] = ownerPays(claims, bills, row, cover)
      const at = history.detectedAt[row] ?? 0
      const partsLate = at - (before < 0 ? originalPartsEnd(unit, cover) : (claims.partsEnd[before] ?? 0))
      if (partsLate >= 0 && partsLate < late) late = partsLate
      before = row
    }
    // a hair sooner than the sum says: its last digit is not sure
    slots.holdsUntil[slot] = cover.years + late - 1e-9
    return moved
  }

  /** What the owner pays for the rows of the component under the decisions as they are. */
  #payRows({ terms, bills }: PricedLifetimes): number {
    const cover = terms.units[this.#place]?.cover
    const slots = this.#slots
    if (cover === undefined) return 0
    for (let i = 0; i < slots.nRows; i++) {
      const row = slots.rows[i] ?? 0
      slots.rowPaid[row] = ownerPays(this.#claims, bills, row, cover)
    }
    return slots.paid()
  }

  #payAll({ stretch }: PricedLifetimes, terms: OptionTerms): void {
    const one = this.#alone(stretch)
    this.#accounts.begin(one)
    payRepairs(one, terms, this.#claims, this.#accounts, null)
    this.paid = this.#accounts.repairsOf(0)
  }

  #lose({ stretch, terms }: PricedLifetimes): void {
    const one = this.#alone(stretch)
    this.#accounts.begin(one)
    loseOutages(one, terms, this.#supply, this.#claims, this.#accounts)
    this.lost = this.#accounts.lostOf(0)
  }

  #alone({ lifetimes }: Stretch): Stretch {
    return { lifetimes, first: this.#lifetime, end: this.#lifetime + 1 }
  }
}

/** The rows of one component in a lifetime, slot by slot; memory that serves again and again. */
class ComponentSlots {
  nRows = 0
  nSlots = 0
  /** Rows of the component. */
  rows = new Int32Array(64)
  /** By slot: its first row, and the parts term up to which its decisions hold. */
  firstRow = new Int32Array(64)
  holdsUntil = new Float64Array(64)
  /** By row of the history: the next row of its slot or −1, and what the owner pays of it. */
  nextRow = new Int32Array(64)
  rowPaid = new Float64Array(64)

  find(history: History, from: number, to: number, place: number): void {
    this.nRows = 0
    this.nSlots = 0
    if (to > this.rows.length) this.#grow(2 * to)
    for (let row = from; row < to; row++) {
      if (history.place[row] !== place) continue
      const before = history.before[row] ?? -1
      this.rows[this.nRows++] = row
      this.nextRow[row] = -1
      if (before >= 0) this.nextRow[before] = row
      else this.firstRow[this.nSlots++] = row
    }
  }

  /** What the owner pays for all rows of the component. */
  paid(): number {
    let sum = 0
    for (let i = 0; i < this.nRows; i++) sum += this.rowPaid[this.rows[i] ?? 0] ?? 0
    return sum
  }

  #grow(rows: number): void {
    this.rows = new Int32Array(rows)
    this.firstRow = new Int32Array(rows)
    this.holdsUntil = new Float64Array(rows)
    this.nextRow = new Int32Array(rows)
    this.rowPaid = new Float64Array(rows)
  }
}

type Exits = Pick<SharedChance, 'partsExits' | 'labourExits'>

const STAYING: Exits = { partsExits: [], labourExits: [] }

function ownerPays(claims: Claims, bills: RowBills, row: number, cover: CoverTerms): number {
  const parts = bills.parts[row] ?? 0
  const labour = bills.labour[row] ?? 0
  return (
    ownersParts(cover, parts, claims.parts[row] === GRANTED) + ownersLabour(cover, labour, claims.labour[row] === 1)
  )
}

/** Whether any unit's provider had left when its failure was detected. */
function providerMissed(history: History, from: number, to: number, { partsExits, labourExits }: Exits): boolean {
  if (partsExits.length + labourExits.length === 0) return false
  for (let row = from; row < to; row++) {
    const fittedAt = history.fittedAt[row] ?? 0
    const at = history.detectedAt[row] ?? 0
    if (!providerExists(partsExits, fittedAt, at) || !providerExists(labourExits, fittedAt, at)) return true
  }
  return false
}

/** The terms of an option with other cover for one of its components. */
function withCover(terms: OptionTerms, place: number, cover: CoverTerms): OptionTerms {
  return { ...terms, units: terms.units.map((unit, i) => (i === place ? { ...unit, cover } : unit)) }
}

function copyDecisions(source: Claims, own: Claims, from: number, to: number): void {
  own.reserve(to)
  // a few rows as a rule: a loop is quicker than views
  for (let row = from; row < to; row++) {
    own.parts[row] = source.parts[row] ?? 0
    own.labour[row] = source.labour[row] ?? 0
    own.partsEnd[row] = source.partsEnd[row] ?? 0
    own.labourEnd[row] = source.labourEnd[row] ?? 0
  }
}
