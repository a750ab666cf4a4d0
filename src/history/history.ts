/**
 * What happened in one lifetime of one option: rows in typed arrays, no money (design section 2).
 * A failure row is one failure or one planned replacement of one unit; a visit row is one call-out. Rows of one slot
 * stand in order of time. The memory serves draw after draw.
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
  /** Failures above which a draw is given up; looked at when memory grows. */
  mostFailures = Infinity
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
  /** Empties the history for the next draw. */
  clear(): void {
    this.nFailures = 0
    this.nVisits = 0
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

  /**
   * Appends rows and visits of another history as they are: rows of a slot and of a visit name each other by their
   * places in that history.
   *
   * @param from - the other history
   * @param row - its first row to copy
   * @param rows - how many
   * @param visit - its first visit to copy
   * @param visits - how many
   */
  append(from: History, row: number, rows: number, visit: number, visits: number): void {
    const at = this.nFailures
    this.nFailures += rows
    while (this.nFailures > this.place.length) this.#growFailures()
    copy(from.place, row, this.place, at, rows)
    copy(from.before, row, this.before, at, rows)
    copy(from.failedAt, row, this.failedAt, at, rows)
    copy(from.detectedAt, row, this.detectedAt, at, rows)
    copy(from.returnedAt, row, this.returnedAt, at, rows)
    copy(from.fittedAt, row, this.fittedAt, at, rows)
    copy(from.visit, row, this.visit, at, rows)
    copy(from.claim, row, this.claim, at, rows)
    copy(from.action, row, this.action, at, rows)
    copy(from.mode, row, this.mode, at, rows)
    copy(from.ageAfter, row, this.ageAfter, at, rows)
    copy(from.curedAfter, row, this.curedAfter, at, rows)
    copy(from.string, row, this.string, at, rows)
    copy(from.takesString, row, this.takesString, at, rows)
    const visitAt = this.nVisits
    this.nVisits += visits
    while (this.nVisits > this.visitReturn.length) this.visitReturn = grown(this.visitReturn, Float64Array)
    copy(from.visitReturn, visit, this.visitReturn, visitAt, visits)
  }

  #growFailures(): void {
    if (this.nFailures > this.mostFailures) throw new TooManyFailuresError(this.nFailures)
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

interface Column {
  readonly [i: number]: number
}

function copy(from: Column, start: number, to: { [i: number]: number }, at: number, rows: number): void {
  for (let i = 0; i < rows; i++) to[at + i] = from[start + i] ?? 0
}
