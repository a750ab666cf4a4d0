import { type History, PLANNED, REPAIRED } from '../history/history.ts'
import type { Account, CoverTally } from './account.ts'
import { type Claims, GRANTED } from './claims.ts'
import type { OptionTerms, SharedChance, UnitTerms } from './terms.ts'

/** Sums over the units of each visit; memory that serves draw after draw. */
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

  begin(visits: number): void {
    if (visits > this.units.length) {
      this.units = new Int32Array(2 * visits)
      this.labour = new Float64Array(2 * visits)
      this.furtherOfLargest = new Float64Array(2 * visits)
      this.further = new Float64Array(2 * visits)
      this.onRoof = new Uint8Array(2 * visits)
      this.free = new Uint8Array(2 * visits)
    }
    // a few as a rule: one loop is quicker than five calls
    for (let visit = 0; visit < visits; visit++) {
      this.units[visit] = 0
      this.labour[visit] = -1
      this.further[visit] = 0
      this.onRoof[visit] = 0
      this.free[visit] = 1
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

  /** Makes room for a number of rows and empties them. */
  begin(rows: number): void {
    if (rows > this.parts.length) {
      this.parts = new Float64Array(2 * rows)
      this.labour = new Float64Array(2 * rows)
    }
    for (let row = 0; row < rows; row++) {
      this.parts[row] = 0
      this.labour[row] = 0
    }
  }
}

/**
 * Enters every repair of a history that is paid before the horizon into an account (W4, C1–C4, M8, O6).
 *
 * @param history - of one draw
 * @param terms - of the option
 * @param chance - ends of production of the draw
 * @param claims - from `decideClaims`
 * @param account - added to
 * @param tally - added to, for failures of the option's first component; null: not wanted
 * @param bills - filled; null: not wanted
 */
export function payRepairs(
  history: History,
  terms: OptionTerms,
  chance: SharedChance,
  claims: Claims,
  account: Account,
  tally: CoverTally | null,
  bills: RowBills | null = null,
): void {
  bills?.begin(history.nFailures)
  gatherVisits(history, terms, claims)
  payVisits(history, terms, account)
  for (let row = 0; row < history.nFailures; row++) {
    const unit = terms.units[history.place[row] ?? 0]
    const at = history.returnedAt[row] ?? Infinity
    if (unit === undefined || at > terms.horizonYears) continue
    const present = Math.exp(-terms.logDiscount * at)
    const year = yearOf(at, terms.horizonYears)
    const labourGrown = Math.exp(terms.labourLogGrowth * at)
    const parts = partsPrice(history, row, unit) * Math.exp(unit.partsLogGrowth * at)
    const partsPaid = claims.parts[row] === GRANTED ? parts * (1 - unit.cover.partsShare) : parts
    const visit = history.visit[row] ?? -1
    const units = visit < 0 ? 1 : (sums.units[visit] ?? 1)
    const labour = visit < 0 ? 0 : (visitLabour(visit) / units) * labourGrown
    const labourPaid = claims.labour[row] === 1 ? labour * (1 - unit.cover.labourShare) : labour
    const surcharge = surchargeDue(history, row, chance, unit, at) ? unit.surcharge : 0
    account.parts += (partsPaid + surcharge) * present
    account.surcharges += surcharge * present
    account.labour += labourPaid * present
    account.coveredParts += (parts - partsPaid) * present
    account.coveredLabour += (labour - labourPaid) * present
    enter(account, year, partsPaid + surcharge + labourPaid, present)
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
}

function gatherVisits(history: History, terms: OptionTerms, claims: Claims): void {
  sums.begin(history.nVisits)
  for (let row = 0; row < history.nFailures; row++) {
    const visit = history.visit[row] ?? -1
    const unit = terms.units[history.place[row] ?? 0]
    if (visit < 0 || unit === undefined) continue
    const repaired = history.action[row] === REPAIRED && unit.repair !== null
    const labour = repaired ? (unit.repair?.labour ?? 0) : unit.labour
    sums.units[visit] = (sums.units[visit] ?? 0) + 1
    sums.further[visit] = (sums.further[visit] ?? 0) + unit.labourEachFurther
    if (labour > (sums.labour[visit] ?? 0)) {
      sums.labour[visit] = labour
      sums.furtherOfLargest[visit] = unit.labourEachFurther
    }
    if (unit.onRoof) sums.onRoof[visit] = 1
    if (claims.labour[row] !== 1 || !unit.cover.visitsCovered) sums.free[visit] = 0
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

function payVisits(history: History, terms: OptionTerms, account: Account): void {
  for (let visit = 0; visit < history.nVisits; visit++) {
    const at = history.visitReturn[visit] ?? Infinity
    if (at > terms.horizonYears || sums.units[visit] === 0) continue
    account.nVisits++
    const price = visitPrice(visit, terms) * Math.exp(terms.labourLogGrowth * at)
    const present = Math.exp(-terms.logDiscount * at)
    if (sums.free[visit] === 1) {
      account.coveredVisits += price * present
      continue
    }
    account.visits += price * present
    enter(account, yearOf(at, terms.horizonYears), price, present)
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

function enter(account: Account, year: number, amount: number, present: number): void {
  add(account.cash, year, amount)
  add(account.present, year, amount * present)
}

/** Year of a moment; the horizon itself belongs to the last year. */
function yearOf(at: number, horizonYears: number): number {
  return Math.min(Math.floor(at), horizonYears - 1)
}

function add(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
