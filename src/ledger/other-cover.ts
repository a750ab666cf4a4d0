import type { History } from '../history/history.ts'
import { Account } from './account.ts'
import { Claims, decideClaim, decideClaims, GRANTED, NOT_CLAIMED } from './claims.ts'
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
 * Prices a draw again under other cover of one component (V1, W6). Only its rows can change: their bills are known, so
 * a term costs one decision a row, and outages are lost anew only where another claim makes one longer.
 */
export class OtherCover {
  /** Present value of what the owner pays for repairs, and of the energy and battery value lost to outages. */
  paid = 0
  lost = 0
  readonly #place: number
  readonly #supply: EnergySupply
  readonly #account: Account
  readonly #claims = new Claims()
  readonly #rows: number[] = []
  #draw: PricedDraw | null = null
  #chance: Pick<SharedChance, 'partsExits' | 'labourExits'> = { partsExits: [], labourExits: [] }
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
    this.#rows.length = 0
    for (let row = 0; row < history.nFailures; row++) if (history.place[row] === this.#place) this.#rows.push(row)
    this.paid = account.repairs
    this.lost = account.outageEnergy + account.batteryOutage
    if (this.#rows.length === 0) return false
    copyDecisions(claims, this.#claims, history.nFailures)
    this.#setPaidForOthers(draw, account)
    return true
  }

  /**
   * From here on as if no provider ever left (V3).
   *
   * @returns whether that changes anything in this draw
   */
  ifProvidersStay(): boolean {
    const draw = this.#draw
    if (draw === null || !providerMissed(draw)) return false
    const { history, terms } = draw
    this.#chance = STAYING
    decideClaims(history, terms, { ...draw.chance, ...STAYING }, this.#claims)
    this.#priceAll(draw, terms)
    this.#setPaidForOthers(draw, this.#account)
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
    const claims = this.#claims
    const { history, bills } = draw
    let claimsMoved = false
    let paid = this.#paidForOthers
    for (const row of this.#rows) {
      const claimed = claims.parts[row] !== NOT_CLAIMED
      decideClaim(history, row, unit, cover, this.#chance, claims)
      if ((claims.parts[row] !== NOT_CLAIMED) !== claimed) claimsMoved = true
      paid += ownerPays(claims, bills, row, cover)
    }
    // cover of visits hangs on all units of the visit
    if (unit.cover.visitsCovered) {
      this.#priceAll(draw, withCover(draw.terms, this.#place, cover))
      return
    }
    this.paid = paid
    if (claimsMoved && unit.claimYears > 0) this.#lose(draw)
  }

  #setPaidForOthers({ terms, bills }: PricedDraw, account: Account): void {
    const cover = terms.units[this.#place]?.cover
    let others = account.repairs
    for (const row of this.#rows) if (cover !== undefined) others -= ownerPays(this.#claims, bills, row, cover)
    this.#paidForOthers = others
  }

  #priceAll(draw: PricedDraw, terms: OptionTerms): void {
    this.#account.clear()
    payRepairs(draw.history, terms, draw.chance, this.#claims, this.#account, null)
    this.paid = this.#account.repairs
    this.#lose(draw)
  }

  #lose({ history, terms }: PricedDraw): void {
    const account = this.#account
    account.outageEnergy = 0
    account.batteryOutage = 0
    loseOutages(history, terms, this.#supply, this.#claims, account)
    this.lost = account.outageEnergy + account.batteryOutage
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
  to.parts.set(from.parts.subarray(0, rows))
  to.labour.set(from.labour.subarray(0, rows))
  to.partsEnd.set(from.partsEnd.subarray(0, rows))
  to.labourEnd.set(from.labourEnd.subarray(0, rows))
}
