import type { History } from '../history/history.ts'
import { PLANNED, REPAIRED, type Rows } from '../history/rows.ts'
import { FIRST_ROOM } from '../numerics/first-room.ts'
import { type Accounts, type CoverTally, payInto } from './accounts.ts'
import { type Claims, GRANTED } from './claims.ts'
import { coversWholeVisit, letsVisitBeFree, ownersLabour, ownersParts } from './cover.ts'
import type { OptionTerms, UnitTerms } from './terms.ts'
import { labourPrice, payVisit, VisitBills, visitPrice } from './visit-bills.ts'

/** Bills of the rows of one population before any cover, present values; other terms are priced from them (V1). */
export class RowBills {
  /** 0 where the bill falls after the horizon. */
  parts = new Float64Array(FIRST_ROOM)
  /** Share of the labour of its visit; 0 without one. */
  labour = new Float64Array(FIRST_ROOM)
  /** Call-out and access of a visit of its own; 0 without one. */
  visit = new Float64Array(FIRST_ROOM)

  /** Reserves memory for a number of rows. */
  reserve(rows: number): void {
    if (rows <= this.parts.length) return
    this.parts = new Float64Array(2 * rows)
    this.labour = new Float64Array(2 * rows)
    this.visit = new Float64Array(2 * rows)
  }
}

const visits = new VisitBills()

/**
 * Enters every repair of a history that is paid before the horizon into the accounts (W4, C1–C4, M8, O6): the second
 * stage of the ledger. First the visits that repair several units, whose bill depends on all of them, then the units,
 * population by population.
 *
 * @param history - the lifetimes
 * @param terms - of the option
 * @param claims - by population, from `decideClaims`
 * @param accounts - added to
 * @param tally - added to; null: not wanted
 * @param bills - by population, filled; null: not wanted
 */
export function payRepairs(
  history: History,
  terms: OptionTerms,
  claims: readonly Claims[],
  accounts: Accounts,
  tally: CoverTally | null,
  bills: readonly RowBills[] | null = null,
): void {
  visits.gather(history, terms, claims)
  visits.pay(terms, accounts)
  terms.units.forEach((unit, place) => {
    const rows = history.rows[place]
    const own = claims[place]
    if (rows === undefined || own === undefined) return
    const ownBills = bills?.[place] ?? spare
    ownBills.reserve(rows.n)
    payPopulation(rows, unit, terms, own, accounts, ownBills, tally, place * terms.horizonYears)
    if (unit.surcharge !== 0) paySurcharges(history, rows, unit, terms, accounts)
  })
}

const spare = new RowBills()

/** Pays the failures and planned replacements of a population, each with its share of the visit's labour. */
function payPopulation(
  rows: Rows,
  unit: UnitTerms,
  terms: OptionTerms,
  claims: Claims,
  accounts: Accounts,
  bills: RowBills,
  tally: CoverTally | null,
  firstYear: number,
): void {
  const { horizonYears, discount, labourGrowth } = terms
  const { cover, partsGrowth, needsVisit } = unit
  const { parts: paidParts, labour: paidLabour, coveredParts, coveredLabour } = accounts
  const { cash, paidYears, presentByYear } = accounts
  const { parts: granted, labour: covered } = claims
  const { parts: partsBills, labour: labourBills, visit: visitBills } = bills
  const tripPrice = visitPrice(terms, unit.onRoof)
  const partsNew = partsPrice(unit, false)
  const partsRepaired = partsPrice(unit, true)
  const labourNew = needsVisit ? labourPrice(unit, false) : 0
  const labourRepaired = needsVisit ? labourPrice(unit, true) : 0
  const { n, returnedAt, action, visit, lane: laneOf } = rows
  for (let row = 0; row < n; row++) {
    const at = returnedAt[row] as number // the row is there, as is its lane
    if (at > horizonYears) {
      partsBills[row] = 0
      labourBills[row] = 0
      visitBills[row] = 0
      continue
    }
    const lane = laneOf[row] as number
    const shared = visit[row] as number
    const repaired = action[row] === REPAIRED
    const present = discount.at(at)
    const grown = labourGrowth.at(at)
    const parts = (repaired ? partsRepaired : partsNew) * partsGrowth.at(at)
    const labour = (shared >= 0 ? visits.labourEach(shared) : repaired ? labourRepaired : labourNew) * grown
    const labourCovered = covered[row] === 1
    const partsPaid = ownersParts(cover, parts, granted[row] === GRANTED)
    const labourPaid = ownersLabour(cover, labour, labourCovered)
    paidParts[lane] = (paidParts[lane] as number) + partsPaid * present
    paidLabour[lane] = (paidLabour[lane] as number) + labourPaid * present
    coveredParts[lane] = (coveredParts[lane] as number) + (parts - partsPaid) * present
    coveredLabour[lane] = (coveredLabour[lane] as number) + (labour - labourPaid) * present
    payInto(cash, paidYears, presentByYear, lane, at, partsPaid + labourPaid, present)
    partsBills[row] = parts * present
    labourBills[row] = labour * present
    const own = shared < 0 && needsVisit
    const trip = own ? tripPrice * grown : 0
    visitBills[row] = trip * present
    const free = own && letsVisitBeFree(cover, labourCovered)
    if (own) payVisit(trip, present, free, coversWholeVisit(cover, labourCovered), lane, at, accounts)
    if (tally === null || action[row] === PLANNED) continue
    const year = firstYear + Math.min(Math.floor(rows.failedAt[row] as number), horizonYears - 1)
    const promised = claims.paper[row] === 1 ? parts * cover.partsShare : 0
    tallyFailure(tally, year, parts, promised, labour, partsPaid + labourPaid, trip, free)
    if (shared >= 0) tallyVisit(tally, year, terms, shared, grown)
  }
}

/**
 * Price of the parts of a repair or a replacement, prices of the start (M3).
 *
 * @param unit - the population
 * @param repaired - whether the unit is repaired in place
 */
function partsPrice(unit: UnitTerms, repaired: boolean): number {
  return repaired && unit.repair !== null ? unit.repair.parts : unit.parts
}

/** M8: the first replacement of a slot whose return lies after the end of production pays the surcharge. */
function paySurcharges(
  { endOfProduction }: History,
  rows: Rows,
  unit: UnitTerms,
  terms: OptionTerms,
  accounts: Accounts,
): void {
  const ends = endOfProduction[unit.model]
  if (ends === undefined) return
  for (let row = 0; row < rows.n; row++) {
    const lane = rows.lane[row] as number // the row is there
    const at = rows.returnedAt[row] as number
    if (at > terms.horizonYears || !surchargeDue(rows, row, ends[lane] as number)) continue
    const present = terms.discount.at(at)
    accounts.surcharges[lane] = (accounts.surcharges[lane] as number) + unit.surcharge * present
    accounts.parts[lane] = (accounts.parts[lane] as number) + unit.surcharge * present
    accounts.pay(lane, at, unit.surcharge, present)
  }
}

function surchargeDue(rows: Rows, row: number, end: number): boolean {
  if (rows.action[row] === REPAIRED || (rows.returnedAt[row] as number) <= end) return false
  for (let before = rows.before[row] as number; before >= 0; before = rows.before[before] as number) {
    if (rows.action[before] !== REPAIRED && (rows.returnedAt[before] as number) > end) return false
  }
  return true
}

/** Bills by year of failure, undiscounted: what the terms promise and what the owner pays (V3). */
function tallyFailure(
  tally: CoverTally,
  year: number,
  parts: number,
  promised: number,
  labour: number,
  paid: number,
  trip: number,
  free: boolean,
): void {
  add(tally.partsBill, year, parts)
  add(tally.promised, year, promised)
  add(tally.wholeBill, year, parts + labour + trip)
  add(tally.paid, year, paid + (free ? 0 : trip))
}

/** A failure's part of a visit that repairs several. */
function tallyVisit(tally: CoverTally, year: number, terms: OptionTerms, shared: number, grown: number): void {
  const trip = (visits.priceOf(shared, terms) / (visits.units[shared] ?? 1)) * grown
  add(tally.wholeBill, year, trip)
  add(tally.paid, year, visits.free[shared] === 1 ? 0 : trip)
}

function add(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] as number) + amount // every year has its entry
}
