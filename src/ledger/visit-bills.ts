import type { History } from '../history/history.ts'
import { REPAIRED } from '../history/rows.ts'
import { FIRST_ROOM } from '../numerics/first-room.ts'
import type { Accounts } from './accounts.ts'
import type { Claims } from './claims.ts'
import { coversWholeVisit, letsVisitBeFree } from './cover.ts'
import type { OptionTerms, UnitTerms } from './terms.ts'

/**
 * Bills of the visits that repair several units (W4): they depend on all of them. A unit with a visit of its own has no
 * entry here. The memory is reused.
 */
export class VisitBills {
  #n = 0
  lane = new Int32Array(FIRST_ROOM)
  returnedAt = new Float64Array(FIRST_ROOM)
  units = new Int32Array(FIRST_ROOM)
  /** Largest labour among its units, that unit's further price, and the sum of all further prices. */
  #labour = new Float64Array(FIRST_ROOM)
  #furtherOfLargest = new Float64Array(FIRST_ROOM)
  #further = new Float64Array(FIRST_ROOM)
  /** 1 if any unit is on the roof. */
  #onRoof = new Uint8Array(FIRST_ROOM)
  /** 1 if every unit is under running labour cover that covers visits. */
  free = new Uint8Array(FIRST_ROOM)
  /** 1 if the owner pays nothing of it (O3). */
  #unpaid = new Uint8Array(FIRST_ROOM)

  /** Collects the bill of every visit from its units. */
  gather(history: History, terms: OptionTerms, claims: readonly Claims[]): void {
    this.#begin(history.nVisits)
    if (history.nVisits === 0) return
    terms.units.forEach((unit, place) => {
      const own = claims[place]
      if (own !== undefined) this.#add(history, place, unit, own)
    })
  }

  /** W4: the largest labour of the visit plus the further price of each other unit, split equally; prices of the start. */
  labourEach(visit: number): number {
    const all = (this.#labour[visit] ?? 0) + (this.#further[visit] ?? 0) - (this.#furtherOfLargest[visit] ?? 0)
    return all / (this.units[visit] ?? 1)
  }

  /** Call-out, and roof access once; prices of the start. */
  priceOf(visit: number, terms: OptionTerms): number {
    return visitPrice(terms, this.#onRoof[visit] === 1)
  }

  /**
   * Enters the call-out and access of every visit.
   *
   * @param terms - of the option
   * @param accounts - added to
   */
  pay(terms: OptionTerms, accounts: Accounts): void {
    for (let visit = 0; visit < this.#n; visit++) {
      const at = this.returnedAt[visit] ?? 0
      if (at > terms.horizonYears) continue
      const amount = this.priceOf(visit, terms) * terms.labourGrowth.at(at)
      const present = terms.discount.at(at)
      payVisit(amount, present, this.free[visit] === 1, this.#unpaid[visit] === 1, this.lane[visit] ?? 0, at, accounts)
    }
  }

  #begin(visits: number): void {
    this.#n = visits
    if (visits > this.units.length) {
      const room = 2 * visits
      this.lane = new Int32Array(room)
      this.returnedAt = new Float64Array(room)
      this.units = new Int32Array(room)
      this.#labour = new Float64Array(room)
      this.#furtherOfLargest = new Float64Array(room)
      this.#further = new Float64Array(room)
      this.#onRoof = new Uint8Array(room)
      this.free = new Uint8Array(room)
      this.#unpaid = new Uint8Array(room)
    }
    this.units.fill(0, 0, visits)
    this.#labour.fill(-1, 0, visits)
    this.#further.fill(0, 0, visits)
    this.#onRoof.fill(0, 0, visits)
    this.free.fill(1, 0, visits)
    this.#unpaid.fill(1, 0, visits)
  }

  #add(history: History, place: number, unit: UnitTerms, claims: Claims): void {
    const rows = history.rows[place]
    if (rows === undefined) return
    for (let row = 0; row < rows.n; row++) {
      const visit = rows.visit[row] as number // the row is there
      if (visit < 0) continue
      const labour = labourPrice(unit, rows.action[row] === REPAIRED)
      this.lane[visit] = rows.lane[row] as number
      this.returnedAt[visit] = rows.returnedAt[row] as number
      this.units[visit] = (this.units[visit] as number) + 1
      this.#further[visit] = (this.#further[visit] as number) + unit.labourEachFurther
      const largest = this.#labour[visit] as number
      // among equals, the one with the highest further price counts as the first, so that the order of units does not
      // matter
      if (
        labour > largest ||
        (labour === largest && unit.labourEachFurther > (this.#furtherOfLargest[visit] as number))
      ) {
        this.#labour[visit] = labour
        this.#furtherOfLargest[visit] = unit.labourEachFurther
      }
      if (unit.onRoof) this.#onRoof[visit] = 1
      if (!letsVisitBeFree(unit.cover, claims.labour[row] === 1)) this.free[visit] = 0
      if (!coversWholeVisit(unit.cover, claims.labour[row] === 1)) this.#unpaid[visit] = 0
    }
  }
}

/**
 * Labour of a repair or a replacement, prices of the start (M3).
 *
 * @param unit - the population
 * @param repaired - in place
 */
export function labourPrice(unit: UnitTerms, repaired: boolean): number {
  return repaired && unit.repair !== null ? unit.repair.labour : unit.labour
}

/**
 * Call-out of a visit, and roof access if any unit is on the roof; prices of the start (W4).
 *
 * @param terms - of the option
 * @param onRoof - whether any unit of the visit is
 */
export function visitPrice(terms: OptionTerms, onRoof: boolean): number {
  return terms.callOut + (onRoof ? terms.roofAccess : 0)
}

/**
 * Enters the call-out and access of one visit that returns before the horizon (W4, C3, C4, O6).
 *
 * @param amount - both, prices of the moment
 * @param present - worth today of one unit of money then
 * @param free - the cover of all its units pays for it
 * @param unpaid - the owner pays nothing of it (O3)
 * @param lane - the lifetime
 * @param at - return of its units, years
 * @param accounts - added to
 */
export function payVisit(
  amount: number,
  present: number,
  free: boolean,
  unpaid: boolean,
  lane: number,
  at: number,
  accounts: Accounts,
): void {
  accounts.nVisitsInAll[lane] = (accounts.nVisitsInAll[lane] as number) + 1 // the lane is there
  if (!unpaid) accounts.nVisits[lane] = (accounts.nVisits[lane] as number) + 1
  if (amount === 0) return
  if (free) {
    accounts.coveredVisits[lane] = (accounts.coveredVisits[lane] as number) + amount * present
    return
  }
  accounts.visits[lane] = (accounts.visits[lane] as number) + amount * present
  accounts.pay(lane, at, amount, present)
}
