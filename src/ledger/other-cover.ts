import type { History } from '../history/history.ts'
import { Account } from './account.ts'
import { Claims, decideClaim, GRANTED, NOT_CLAIMED } from './claims.ts'
import { originalPartsEnd, providerExists } from './cover.ts'
import { loseOutages } from './outage-energy.ts'
import { payRepairs, type RowBills } from './repairs.ts'
import type { CoverTerms, EnergySupply, OptionTerms, SharedChance, UnitTerms } from './terms.ts'

/** A draw as it was priced under the present terms. */
export interface PricedDraw {
  readonly history: History
  readonly terms: OptionTerms
  readonly chance: SharedChance
  readonly account: Account
  readonly claims: Claims
  readonly bills: RowBills
}

/**
 * Prices a draw again under other cover of one component (V1, W6). Only its rows can change: their bills are known, so a
 * term costs one decision for each row whose detection passes an end of cover, and outages are lost anew only where
 * another claim makes one longer.
 */
export class OtherCover {
  /** Present value of what the owner pays for repairs, and of the energy and battery value lost to outages. */
  paid = 0
  lost = 0
  readonly #place: number
  readonly #supply: EnergySupply
  readonly #account: Account
  readonly #claims = new Claims()
  readonly #slots = new ComponentSlots()
  #draw: PricedDraw | null = null
  #chance: Pick<SharedChance, 'partsExits' | 'labourExits'> = STAYING
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
    this.#account = new Account(horizonYears)
  }

  /**
   * Takes up a draw.
   *
   * @param draw - priced under the present terms
   * @returns whether the component has rows; without, no cover of it changes anything
   */
  begin(draw: PricedDraw): boolean {
    const { history, account, claims } = draw
    this.#draw = draw
    this.#chance = draw.chance
    this.#slots.find(history, this.#place)
    this.paid = account.repairs
    this.lost = account.outageEnergy + account.batteryOutage
    copyDecisions(claims, this.#claims, history.nFailures)
    this.#paidForOthers = account.repairs - this.#payRows(draw)
    return this.#slots.nRows > 0
  }

  /** Whether any unit's provider had left when its failure was detected: else it does not matter who stays. */
  get providerMissed(): boolean {
    return this.#draw !== null && providerMissed(this.#draw)
  }

  /** From here on as if no provider ever left (V3); worth the while only where one was missed. */
  ifProvidersStay(): void {
    const draw = this.#draw
    if (draw === null || !this.providerMissed) return
    const { history, terms, bills } = draw
    const claims = this.#claims
    this.#chance = STAYING
    let paid = this.#paidForOthers
    let claimsMoved = false
    for (let row = 0; row < history.nFailures; row++) {
      const unit = terms.units[history.place[row] ?? 0]
      if (unit === undefined) continue
      const others = history.place[row] !== this.#place
      if (others) paid -= ownerPays(claims, bills, row, unit.cover)
      const claimed = claims.parts[row] !== NOT_CLAIMED
      decideClaim(history, row, unit, unit.cover, STAYING, claims)
      if (others) paid += ownerPays(claims, bills, row, unit.cover)
      if (unit.claimYears > 0 && claimed !== (claims.parts[row] !== NOT_CLAIMED)) claimsMoved = true
    }
    const ofRows = this.#payRows(draw)
    if (terms.units.some(unit => unit.cover.visitsCovered)) {
      this.#payAll(draw, terms)
      paid = this.paid - ofRows
    }
    this.#paidForOthers = paid
    this.paid = paid + ofRows
    if (claimsMoved) this.#lose(draw)
  }

  /**
   * Prices the draw under another cover of the component: sets `paid` and `lost`.
   *
   * @param cover - of the component
   */
  price(cover: CoverTerms): void {
    this.#slots.holdsUntil.fill(-Infinity, 0, this.#slots.nSlots)
    this.prolong(cover)
  }

  /**
   * Prices the draw under the cover it has, made longer: only slots in which a decision may turn are looked at.
   *
   * @param cover - that of the latest `price` or `prolong` with more years, and with labour years that are either as
   * many or, in both, as many as its years
   */
  prolong(cover: CoverTerms): void {
    const draw = this.#draw
    const unit = draw?.terms.units[this.#place]
    if (draw === null || unit === undefined || this.#slots.nRows === 0) return
    const { holdsUntil, nSlots } = this.#slots
    let decided = false
    let claimsMoved = false
    for (let slot = 0; slot < nSlots; slot++) {
      if (cover.years <= (holdsUntil[slot] ?? 0)) continue
      if (this.#decideSlot(draw, unit, slot, cover)) claimsMoved = true
      decided = true
    }
    if (!decided) return
    // cover of visits hangs on all units of the visit
    if (cover.visitsCovered) this.#payAll(draw, withCover(draw.terms, this.#place, cover))
    else this.paid = this.#paidForOthers + this.#slots.paid()
    if (claimsMoved && unit.claimYears > 0) this.#lose(draw)
  }

  /** Longest parts term, years, under which every decision stays as it is; Infinity: under all that are longer. */
  get holdsUntil(): number {
    const { holdsUntil, nSlots } = this.#slots
    let least = Infinity
    for (let slot = 0; slot < nSlots; slot++) least = Math.min(least, holdsUntil[slot] ?? 0)
    return least
  }

  /** Decides the rows of one slot; says whether any is claimed that was not, or the other way round. */
  #decideSlot({ history, bills }: PricedDraw, unit: UnitTerms, slot: number, cover: CoverTerms): boolean {
    const claims = this.#claims
    const slots = this.#slots
    // an end of cover moves with the term at most year by year, so a row stays uncovered for as long as it is late; the
    // clock of labour grows only while it is that of parts, and so turns no decision of its own
    let late = Infinity
    let moved = false
    let before = -1
    for (let row = slots.firstRow[slot] ?? -1; row >= 0; row = slots.nextRow[row] ?? -1) {
      const claimed = claims.parts[row] !== NOT_CLAIMED
      decideClaim(history, row, unit, cover, this.#chance, claims)
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
  #payRows({ terms, bills }: PricedDraw): number {
    const cover = terms.units[this.#place]?.cover
    const slots = this.#slots
    if (cover === undefined) return 0
    for (let i = 0; i < slots.nRows; i++) {
      const row = slots.rows[i] ?? 0
      slots.rowPaid[row] = ownerPays(this.#claims, bills, row, cover)
    }
    return slots.paid()
  }

  #payAll({ history, chance }: PricedDraw, terms: OptionTerms): void {
    this.#account.clear()
    payRepairs(history, terms, chance, this.#claims, this.#account, null)
    this.paid = this.#account.repairs
  }

  #lose({ history, terms }: PricedDraw): void {
    const account = this.#account
    account.outageEnergy = 0
    account.batteryOutage = 0
    loseOutages(history, terms, this.#supply, this.#claims, account)
    this.lost = account.outageEnergy + account.batteryOutage
  }
}

/** The rows of one component in a draw, slot by slot; memory that serves draw after draw. */
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

  find(history: History, place: number): void {
    this.nRows = 0
    this.nSlots = 0
    if (history.nFailures > this.rows.length) this.#grow(2 * history.nFailures)
    for (let row = 0; row < history.nFailures; row++) {
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

const STAYING = { partsExits: [], labourExits: [] } as const

function ownerPays(claims: Claims, bills: RowBills, row: number, cover: CoverTerms): number {
  const parts = bills.parts[row] ?? 0
  const labour = bills.labour[row] ?? 0
  return (
    (claims.parts[row] === GRANTED ? parts * (1 - cover.partsShare) : parts) +
    (claims.labour[row] === 1 ? labour * (1 - cover.labourShare) : labour)
  )
}

/** Whether any unit's provider had left when its failure was detected. */
function providerMissed({ history, chance }: PricedDraw): boolean {
  if (chance.partsExits.length + chance.labourExits.length === 0) return false
  for (let row = 0; row < history.nFailures; row++) {
    const fittedAt = history.fittedAt[row] ?? 0
    const at = history.detectedAt[row] ?? 0
    if (!providerExists(chance.partsExits, fittedAt, at) || !providerExists(chance.labourExits, fittedAt, at))
      return true
  }
  return false
}

/** The terms of an option with other cover for one of its components. */
function withCover(terms: OptionTerms, place: number, cover: CoverTerms): OptionTerms {
  return { ...terms, units: terms.units.map((unit, i) => (i === place ? { ...unit, cover } : unit)) }
}

function copyDecisions(from: Claims, to: Claims, rows: number): void {
  to.reserve(rows)
  // a few rows as a rule: a loop is quicker than views
  for (let row = 0; row < rows; row++) {
    to.parts[row] = from.parts[row] ?? 0
    to.labour[row] = from.labour[row] ?? 0
    to.partsEnd[row] = from.partsEnd[row] ?? 0
    to.labourEnd[row] = from.labourEnd[row] ?? 0
  }
}
