/**
 * What happened to one option: rows in typed arrays, no money (design section 2), of one lifetime after another.
 * A failure row is one failure or one planned replacement of one unit; a visit row is one call-out. Rows of one slot
 * stand in order of time. The memory serves again and again.
 */

import { TooManyFailuresError } from '../errors.ts'

/** What a row of the history did to its unit (M3, M6). */
export const REPLACED = 0
/** Repaired in place: keeps its cover, renews a part of its age. */
export const REPAIRED = 1
/** Replaced as planned before it failed. */
export const PLANNED = 2

/** Growable columns: one entry a failure, or one a visit where the name says so. */
export class History {
  /** Failures so far. */
  nFailures = 0
  /** Row at which the lifetime in hand began, and the rows above which it is given up; looked at when memory grows. */
  #begun = 0
  #most = Infinity
  /** Visits so far. */
  nVisits = 0
  /** Place of the population in the option. */
  place = new Uint16Array(1024)
  /** Earlier row of the same slot, or −1. */
  before = new Int32Array(1024)
  /** Moment of failure (or of the planned replacement), years after the start. */
  failedAt = new Float64Array(1024)
  /** Moment of detection, years; Infinity if never before the horizon. */
  detectedAt = new Float64Array(1024)
  /** Moment of return to service, years; Infinity if never before the horizon. */
  returnedAt = new Float64Array(1024)
  /** When the unit was fitted, years; 0 for original units, whatever their age. */
  fittedAt = new Float64Array(1024)
  /** Row of the visit that repairs it, or −1: none needed, or none before the horizon. */
  visit = new Int32Array(1024)
  /** One uniform number for the claim (W4). */
  claim = new Float64Array(1024)
  /** REPLACED, REPAIRED or PLANNED. */
  action = new Uint8Array(1024)
  /** Failure mode by its index, where a repair asks for it (M3); 0 for all other rows. */
  mode = new Uint8Array(1024)
  /** Virtual age of the unit when it returns, years (M3). */
  ageAfter = new Float64Array(1024)
  /** Modes the unit can no longer fail by after its return, bit set (M3). */
  curedAfter = new Uint32Array(1024)
  /** String of an optimiser, or −1. */
  string = new Int32Array(1024)
  /** Whether the failure takes that string down, 0 or 1 (O4). */
  takesString = new Uint8Array(1024)
  /** Moment of return of all units of the visit, years. */
  visitReturn = new Float64Array(256)
  /** Empties the history. */
  clear(): void {
    this.nFailures = 0
    this.nVisits = 0
  }

  /**
   * Says how many rows the lifetime that begins here may have.
   *
   * @param rows - above it, adding a row throws sooner or later
   */
  allow(rows: number): void {
    this.#begun = this.nFailures
    this.#most = rows
  }

  /**
   * Appends a failure; the caller fills what differs from: not detected, not returned, no visit, replaced, as new.
   *
   * @returns the row
   */
  addFailure(place: number, before: number, failedAt: number, fittedAt: number): number {
    const row = this.nFailures++
    if (row >= this.place.length) this.#growFailures()
    this.place[row] = place
    this.before[row] = before
    this.failedAt[row] = failedAt
    this.detectedAt[row] = Infinity
    this.returnedAt[row] = Infinity
    this.fittedAt[row] = fittedAt
    this.visit[row] = -1
    this.claim[row] = 1
    this.action[row] = REPLACED
    this.mode[row] = 0
    this.ageAfter[row] = 0
    this.curedAfter[row] = 0
    this.string[row] = -1
    this.takesString[row] = 0
    return row
  }

  /**
   * Appends a visit.
   *
   * @returns the row
   */
  addVisit(returnedAt: number): number {
    const row = this.nVisits++
    if (row >= this.visitReturn.length) this.visitReturn = grown(this.visitReturn, Float64Array)
    this.visitReturn[row] = returnedAt
    return row
  }

  #growFailures(): void {
    const own = this.nFailures - this.#begun
    if (own > this.#most) throw new TooManyFailuresError(own)
    this.place = grown(this.place, Uint16Array)
    this.before = grown(this.before, Int32Array)
    this.failedAt = grown(this.failedAt, Float64Array)
    this.detectedAt = grown(this.detectedAt, Float64Array)
    this.returnedAt = grown(this.returnedAt, Float64Array)
    this.fittedAt = grown(this.fittedAt, Float64Array)
    this.visit = grown(this.visit, Int32Array)
    this.claim = grown(this.claim, Float64Array)
    this.action = grown(this.action, Uint8Array)
    this.mode = grown(this.mode, Uint8Array)
    this.ageAfter = grown(this.ageAfter, Float64Array)
    this.curedAfter = grown(this.curedAfter, Uint32Array)
    this.string = grown(this.string, Int32Array)
    this.takesString = grown(this.takesString, Uint8Array)
  }
}

function grown<T extends { set(from: T): void; readonly length: number }>(
  column: T,
  kind: new (length: number) => T,
): T {
  const larger = new kind(column.length * 2)
  larger.set(column)
  return larger
}
