import type { SharedChance } from '../history/chance.ts'
import { type History, PLANNED, REPAIRED } from '../history/history.ts'
import type { Stretch } from '../history/lifetimes.ts'
import type { Accounts, CoverTally } from './accounts.ts'
import { type Claims, GRANTED } from './claims.ts'
import { coversWholeVisit, letsVisitBeFree, ownersLabour, ownersParts } from './cover.ts'
import type { OptionTerms, UnitTerms } from './terms.ts'

/** Sums over the units of each visit; memory that serves again and again. */
class VisitSums {
  units = new Int32Array(256)
  /** Largest labour among its units, that unit's further price, and the sum of all further prices. */
  labour = new Float64Array(256)
  furtherOfLargest = new Float64Array(256)
  further = new Float64Array(256)
  /** 1 if any unit is on the roof. */
  onRoof = new Uint8Array(256)
  /** 1 while every unit is under running labour cover that covers visits. */
  free = new Uint8Array(256)
  /** 1 while nothing of it falls to the owner. */
  unpaid = new Uint8Array(256)
  /** Discount and growth of labour at the return of the visit, which is that of all its units. */
  present = new Float64Array(256)
  grown = new Float64Array(256)

  begin(from: number, to: number): void {
    if (to > this.units.length) {
      this.units = new Int32Array(2 * to)
      this.labour = new Float64Array(2 * to)
      this.furtherOfLargest = new Float64Array(2 * to)
      this.further = new Float64Array(2 * to)
      this.onRoof = new Uint8Array(2 * to)
      this.free = new Uint8Array(2 * to)
      this.unpaid = new Uint8Array(2 * to)
      this.present = new Float64Array(2 * to)
      this.grown = new Float64Array(2 * to)
    }
    for (let visit = from; visit < to; visit++) {
      this.units[visit] = 0
      this.labour[visit] = -1
      this.further[visit] = 0
      this.onRoof[visit] = 0
      this.free[visit] = 1
      this.unpaid[visit] = 1
    }
  }
}

const sums = new VisitSums()

/** Bills of each row before any cover, present values: what other terms are priced from (V1). */
export class RowBills {
  /** 0 where the bill falls after the horizon. */
  parts = new Float64Array(1024)
  /** Share of the labour of its visit; 0 without one. */
  labour = new Float64Array(1024)

  /** Makes room for a number of rows. */
  reserve(rows: number): void {
    if (rows <= this.parts.length) return
    this.parts = new Float64Array(2 * rows)
    this.labour = new Float64Array(2 * rows)
  }
}

/**
 * Enters every repair of some lifetimes that is paid before the horizon into their accounts (W4, C1–C4, M8, O6): the
 * second stage of the ledger. First the visits, whose bill hangs on all their units, then the units.
 *
 * @param stretch - the lifetimes
 * @param terms - of the option
 * @param claims - from `decideClaims`
 * @param accounts - added to
 * @param tally - added to, for failures of the option's first component; null: not wanted
 * @param bills - filled; null: not wanted
 */
export function payRepairs(
  stretch: Stretch,
  terms: OptionTerms,
  claims: Claims,
  accounts: Accounts,
  tally: CoverTally | null,
  bills: RowBills | null = null,
): void {
  const { lifetimes, first, end } = stretch
  const { history, firstRow } = lifetimes
  bills?.reserve(history.nFailures)
  gatherVisits(stretch, terms, claims)
  payVisits(stretch, terms, accounts)
  for (let lifetime = first; lifetime < end; lifetime++) {
    const to = firstRow[lifetime + 1] ?? 0
    let row = firstRow[lifetime] ?? 0
    if (row === to) continue
    const chance = lifetimes.chanceOf(lifetime)
    for (; row < to; row++) payRow(history, row, chance, terms, claims, accounts, lifetime - first, tally, bills)
  }
}

/** Pays one failure or planned replacement, its share of the visit's labour included. */
function payRow(
  history: History,
  row: number,
  chance: SharedChance,
  terms: OptionTerms,
  claims: Claims,
  accounts: Accounts,
  account: number,
  tally: CoverTally | null,
  bills: RowBills | null,
): void {
  const unit = terms.units[history.place[row] ?? 0]
  const at = history.returnedAt[row] ?? Infinity
  if (unit === undefined || at > terms.horizonYears) {
    if (bills !== null) {
      bills.parts[row] = 0
      bills.labour[row] = 0
    }
    return
  }
  const year = yearOf(at, terms.horizonYears)
  const visit = history.visit[row] ?? -1
  const present = visit < 0 ? terms.discount.at(at) : (sums.present[visit] ?? 0)
  const labourGrown = visit < 0 ? 1 : (sums.grown[visit] ?? 1)
  const parts = partsPrice(history, row, unit) * unit.partsGrowth.at(at)
  const partsPaid = ownersParts(unit.cover, parts, claims.parts[row] === GRANTED)
  const units = visit < 0 ? 1 : (sums.units[visit] ?? 1)
  const labour = visit < 0 ? 0 : (visitLabour(visit) / units) * labourGrown
  const labourPaid = ownersLabour(unit.cover, labour, claims.labour[row] === 1)
  const surcharge = surchargeDue(history, row, chance, unit, at) ? unit.surcharge : 0
  add(accounts.parts, account, (partsPaid + surcharge) * present)
  if (surcharge !== 0) add(accounts.surcharges, account, surcharge * present)
  add(accounts.labour, account, labourPaid * present)
  if (partsPaid !== parts) add(accounts.coveredParts, account, (parts - partsPaid) * present)
  if (labourPaid !== labour) add(accounts.coveredLabour, account, (labour - labourPaid) * present)
  enter(accounts, account, year, partsPaid + surcharge + labourPaid, present)
  if (bills !== null) {
    bills.parts[row] = parts * present
    bills.labour[row] = labour * present
  }
  if (tally !== null && history.place[row] === 0 && history.action[row] !== PLANNED) {
    const failedIn = yearOf(history.failedAt[row] ?? 0, terms.horizonYears)
    const trip = visit < 0 ? 0 : (visitPrice(visit, terms) / units) * labourGrown
    const tripPaid = visit >= 0 && sums.free[visit] === 1 ? 0 : trip
    add(tally.partsBill, failedIn, parts)
    add(tally.promised, failedIn, claims.paper[row] === 1 ? parts * unit.cover.partsShare : 0)
    add(tally.wholeBill, failedIn, parts + labour + trip)
    add(tally.paid, failedIn, partsPaid + labourPaid + tripPaid)
  }
}

function gatherVisits({ lifetimes, first, end }: Stretch, terms: OptionTerms, claims: Claims): void {
  const { history, firstRow, firstVisit } = lifetimes
  sums.begin(firstVisit[first] ?? 0, firstVisit[end] ?? 0)
  const to = firstRow[end] ?? 0
  for (let row = firstRow[first] ?? 0; row < to; row++) {
    const visit = history.visit[row] ?? -1
    const unit = terms.units[history.place[row] ?? 0]
    if (visit < 0 || unit === undefined) continue
    const repaired = history.action[row] === REPAIRED && unit.repair !== null
    const labour = repaired ? (unit.repair?.labour ?? 0) : unit.labour
    sums.units[visit] = (sums.units[visit] ?? 0) + 1
    sums.further[visit] = (sums.further[visit] ?? 0) + unit.labourEachFurther
    const largest = sums.labour[visit] ?? 0
    // of equal ones the dearest to add counts as the first, so that the order of units does not matter
    if (labour > largest || (labour === largest && unit.labourEachFurther > (sums.furtherOfLargest[visit] ?? 0))) {
      sums.labour[visit] = labour
      sums.furtherOfLargest[visit] = unit.labourEachFurther
    }
    if (unit.onRoof) sums.onRoof[visit] = 1
    if (!letsVisitBeFree(unit.cover, claims.labour[row] === 1)) sums.free[visit] = 0
    if (!coversWholeVisit(unit.cover, claims.labour[row] === 1)) sums.unpaid[visit] = 0
  }
}

/** W4: the largest labour of the visit plus the further price of each other unit; prices of the start date. */
function visitLabour(visit: number): number {
  return (sums.labour[visit] ?? 0) + (sums.further[visit] ?? 0) - (sums.furtherOfLargest[visit] ?? 0)
}

/** Call-out, and roof access once; prices of the start date. */
function visitPrice(visit: number, terms: OptionTerms): number {
  return terms.callOut + (sums.onRoof[visit] === 1 ? terms.roofAccess : 0)
}

function payVisits({ lifetimes, first, end }: Stretch, terms: OptionTerms, accounts: Accounts): void {
  const { history, firstVisit } = lifetimes
  const priced = terms.callOut !== 0 || terms.roofAccess !== 0
  for (let lifetime = first; lifetime < end; lifetime++) {
    const to = firstVisit[lifetime + 1] ?? 0
    const account = lifetime - first
    for (let visit = firstVisit[lifetime] ?? 0; visit < to; visit++) {
      const at = history.visitReturn[visit] ?? Infinity
      if (at > terms.horizonYears || sums.units[visit] === 0) continue
      const grown = terms.labourGrowth.at(at)
      const present = terms.discount.at(at)
      sums.grown[visit] = grown
      sums.present[visit] = present
      add(accounts.nVisitsInAll, account, 1)
      if (sums.unpaid[visit] === 0) add(accounts.nVisits, account, 1)
      if (!priced) continue
      const price = visitPrice(visit, terms) * grown
      if (sums.free[visit] === 1) {
        add(accounts.coveredVisits, account, price * present)
        continue
      }
      add(accounts.visits, account, price * present)
      enter(accounts, account, yearOf(at, terms.horizonYears), price, present)
    }
  }
}

function partsPrice(history: History, row: number, unit: UnitTerms): number {
  return history.action[row] === REPAIRED && unit.repair !== null ? unit.repair.parts : unit.parts
}

/** M8: the first replacement of a slot whose return lies after the end of production. */
function surchargeDue(history: History, row: number, chance: SharedChance, unit: UnitTerms, at: number): boolean {
  if (unit.surcharge === 0 || history.action[row] === REPAIRED) return false
  const end = chance.endOfProduction[unit.model] ?? Infinity
  if (at <= end) return false
  for (let before = history.before[row] ?? -1; before >= 0; before = history.before[before] ?? -1) {
    if (history.action[before] !== REPAIRED && (history.returnedAt[before] ?? 0) > end) return false
  }
  return true
}

function enter(accounts: Accounts, account: number, year: number, amount: number, present: number): void {
  add(accounts.cash, account * accounts.years + year, amount)
  add(accounts.presentByYear, year, amount * present)
}

/** Year of a moment; the horizon itself belongs to the last year. */
function yearOf(at: number, horizonYears: number): number {
  return Math.min(Math.floor(at), horizonYears - 1)
}

function add(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
