import type { History } from '../history/history.ts'
import { PLANNED, REPAIRED, type Rows } from '../history/rows.ts'
import type { Accounts, CoverTally } from './accounts.ts'
import { type Claims, GRANTED } from './claims.ts'
import { coversWholeVisit, letsVisitBeFree, ownersLabour, ownersParts } from './cover.ts'
import type { OptionTerms, UnitTerms } from './terms.ts'
import { labourPrice, payVisit, VisitBills, visitPrice } from './visit-bills.ts'

/** Bills of the rows of one population before any cover, present values: what other terms are priced from (V1). */
export class RowBills {
  /** 0 where the bill falls after the horizon. */
  parts = new Float64Array(64)
  /** Share of the labour of its visit; 0 without one. */
  labour = new Float64Array(64)
  /** Call-out and access of a visit of its own; 0 without one. */
  visit = new Float64Array(64)

  /** Makes room for a number of rows. */
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
 * stage of the ledger. First the visits that repair several units, whose bill hangs on all of them, then the units,
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
    payPopulation(rows, unit, terms, own, accounts, ownBills)
    if (unit.surcharge !== 0) paySurcharges(history, rows, unit, terms, accounts)
    if (tally !== null) tallyCover(rows, unit, terms, own, tally, place * terms.horizonYears)
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
): void {
  const { horizonYears, discount, labourGrowth } = terms
  const { cover, partsGrowth, needsVisit } = unit
  const { parts: paidParts, labour: paidLabour, coveredParts, coveredLabour } = accounts
  const tripPrice = visitPrice(terms, unit.onRoof)
  const { n, returnedAt, action, visit, lane: laneOf } = rows
  for (let row = 0; row < n; row++) {
    const at = returnedAt[row] as number // the row is there, as is its lane
    if (at > horizonYears) {
      bills.parts[row] = 0
      bills.labour[row] = 0
      bills.visit[row] = 0
      continue
    }
    const lane = laneOf[row] as number
    const shared = visit[row] as number
    const repaired = action[row] === REPAIRED
    const present = discount.at(at)
    const grown = labourGrowth.at(at)
    const parts = partsPrice(unit, repaired) * partsGrowth.at(at)
    const labour =
      shared >= 0 ? visits.labourEach(shared) * grown : needsVisit ? labourPrice(unit, repaired) * grown : 0
    const granted = claims.parts[row] === GRANTED
    const covered = claims.labour[row] === 1
    const partsPaid = ownersParts(cover, parts, granted)
    const labourPaid = ownersLabour(cover, labour, covered)
    paidParts[lane] = (paidParts[lane] as number) + partsPaid * present
    paidLabour[lane] = (paidLabour[lane] as number) + labourPaid * present
    coveredParts[lane] = (coveredParts[lane] as number) + (parts - partsPaid) * present
    coveredLabour[lane] = (coveredLabour[lane] as number) + (labour - labourPaid) * present
    accounts.pay(lane, at, partsPaid + labourPaid, present)
    bills.parts[row] = parts * present
    bills.labour[row] = labour * present
    const own = shared < 0 && needsVisit
    bills.visit[row] = own ? tripPrice * grown * present : 0
    if (own) {
      const unpaid = coversWholeVisit(cover, covered)
      payVisit(terms, tripPrice, letsVisitBeFree(cover, covered), unpaid, lane, at, accounts)
    }
  }
}

/**
 * Parts of a repair or a replacement, prices of the start (M3).
 *
 * @param unit - the population
 * @param repaired - in place
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
function tallyCover(
  rows: Rows,
  unit: UnitTerms,
  terms: OptionTerms,
  claims: Claims,
  tally: CoverTally,
  firstYear: number,
): void {
  const { cover } = unit
  for (let row = 0; row < rows.n; row++) {
    const at = rows.returnedAt[row] as number // the row is there
    if (at > terms.horizonYears || rows.action[row] === PLANNED) continue
    const repaired = rows.action[row] === REPAIRED
    const shared = rows.visit[row] as number
    const grown = terms.labourGrowth.at(at)
    const covered = claims.labour[row] === 1
    const parts = partsPrice(unit, repaired) * unit.partsGrowth.at(at)
    let labour = 0
    let trip = 0
    let free = false
    if (shared >= 0) {
      labour = visits.labourEach(shared) * grown
      trip = (visits.priceOf(shared, terms) / (visits.units[shared] ?? 1)) * grown
      free = visits.free[shared] === 1
    } else if (unit.needsVisit) {
      labour = labourPrice(unit, repaired) * grown
      trip = visitPrice(terms, unit.onRoof) * grown
      free = letsVisitBeFree(cover, covered)
    }
    const year = firstYear + Math.min(Math.floor(rows.failedAt[row] as number), terms.horizonYears - 1)
    const paid = ownersParts(cover, parts, claims.parts[row] === GRANTED) + ownersLabour(cover, labour, covered)
    add(tally.partsBill, year, parts)
    add(tally.promised, year, claims.paper[row] === 1 ? parts * cover.partsShare : 0)
    add(tally.wholeBill, year, parts + labour + trip)
    add(tally.paid, year, paid + (free ? 0 : trip))
  }
}

function add(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
