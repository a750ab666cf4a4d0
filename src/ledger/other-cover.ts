import type { History } from '../history/history.ts'
import { Account } from './account.ts'
import { Claims, decideClaim, GRANTED, NOT_CLAIMED } from './claims.ts'
import { providerExists } from './cover.ts'
import { loseOutages } from './outage-energy.ts'
import { payRepairs, type RowBills } from './repairs.ts'
import type { CoverTerms, EnergySupply, OptionTerms, SharedChance } from './terms.ts'

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
  #draw: PricedDraw | null = null
  #chance: Pick<SharedChance, 'partsExits' | 'labourExits'> = STAYING
  /** Rows of the component. */
  readonly #rows: number[] = []
  /** By row of the component: what the owner pays of it, and whether its slot has other rows. */
  readonly #rowPaid: number[] = []
  readonly #chained: boolean[] = []
  /** The cover the rows were last decided under; null: another one in each. */
  #decided: CoverTerms | null = null
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
    this.#findRows(history)
    this.paid = account.repairs
    this.lost = account.outageEnergy + account.batteryOutage
    copyDecisions(claims, this.#claims, history.nFailures)
    this.#partRows(draw, account.repairs)
    return this.#rows.length > 0
  }

  /**
   * From here on as if no provider ever left (V3).
   *
   * @returns whether that changes anything in this draw
   */
  ifProvidersStay(): boolean {
    const draw = this.#draw
    if (draw === null || !providerMissed(draw)) return false
    const { history, terms, bills } = draw
    const claims = this.#claims
    this.#chance = STAYING
    this.#decided = null
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
    if (terms.units.some(unit => unit.cover.visitsCovered)) {
      this.#payAll(draw, terms)
      paid = this.paid
      for (const row of this.#rows) paid -= this.#ownerPays(draw, row)
    }
    this.#partRows(draw, Number.NaN)
    this.#paidForOthers = paid
    this.#sumRows()
    if (claimsMoved) this.#lose(draw)
    return true
  }

  /**
   * Prices the draw under another cover of the component: sets `paid` and `lost`.
   *
   * @param cover - of the component
   */
  price(cover: CoverTerms): void {
    const draw = this.#draw
    const unit = draw?.terms.units[this.#place]
    if (draw === null || unit === undefined || this.#rows.length === 0) return
    const { history, bills } = draw
    const claims = this.#claims
    const last = this.#decided
    this.#decided = cover
    let decided = false
    let claimsMoved = false
    for (let i = 0; i < this.#rows.length; i++) {
      const row = this.#rows[i] ?? 0
      const age = (history.detectedAt[row] ?? 0) + unit.ageYears
      // W2: a row alone in its slot hangs on the two clocks of an original unit only
      if (last !== null && this.#chained[i] === false && sameSide(last, cover, age)) continue
      const claimed = claims.parts[row] !== NOT_CLAIMED
      decideClaim(history, row, unit, cover, this.#chance, claims)
      if (claimed !== (claims.parts[row] !== NOT_CLAIMED)) claimsMoved = true
      this.#rowPaid[i] = ownerPays(claims, bills, row, cover)
      decided = true
    }
    if (!decided) return
    // cover of visits hangs on all units of the visit
    if (cover.visitsCovered) this.#payAll(draw, withCover(draw.terms, this.#place, cover))
    else this.#sumRows()
    if (claimsMoved && unit.claimYears > 0) this.#lose(draw)
  }

  #findRows(history: History): void {
    this.#rows.length = 0
    this.#chained.length = 0
    for (let row = 0; row < history.nFailures; row++) {
      if (history.place[row] !== this.#place) continue
      const before = history.before[row] ?? -1
      if (before >= 0) this.#chained[this.#rows.indexOf(before)] = true
      this.#rows.push(row)
      this.#chained.push(before >= 0)
    }
  }

  /** Parts what the owner pays for the rows of the component from the rest of `paid`. */
  #partRows(draw: PricedDraw, paid: number): void {
    this.#decided = null
    this.#rowPaid.length = 0
    let others = paid
    for (const row of this.#rows) {
      const own = this.#ownerPays(draw, row)
      this.#rowPaid.push(own)
      others -= own
    }
    this.#paidForOthers = others
  }

  #ownerPays({ terms, bills }: PricedDraw, row: number): number {
    const cover = terms.units[this.#place]?.cover
    return cover === undefined ? 0 : ownerPays(this.#claims, bills, row, cover)
  }

  #sumRows(): void {
    let paid = this.#paidForOthers
    for (let i = 0; i < this.#rowPaid.length; i++) paid += this.#rowPaid[i] ?? 0
    this.paid = paid
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

/** Whether both clocks of an original unit stand on the same side of an age under two covers. */
function sameSide(a: CoverTerms, b: CoverTerms, ageYears: number): boolean {
  return ageYears < a.years === ageYears < b.years && ageYears < a.labourYears === ageYears < b.labourYears
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
  to.parts.set(from.parts.subarray(0, rows))
  to.labour.set(from.labour.subarray(0, rows))
  to.partsEnd.set(from.partsEnd.subarray(0, rows))
  to.labourEnd.set(from.labourEnd.subarray(0, rows))
}
