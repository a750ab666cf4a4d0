import { FIRST_ROOM } from '../numerics/first-room.ts'
import { StreamColumns } from '../numerics/random/streams.ts'

/** The unit was replaced. This and the next two are what may happen to the unit of a row (M3, M6). */
export const REPLACED = 0
/** Repaired in place: keeps its cover, renews a part of its age. */
export const REPAIRED = 1
/** Replaced as planned before it failed. */
export const PLANNED = 2

/** Number of uniform numbers of a failure; the next six give the purpose of each (K1). */
export const NUMBERS = 6
/** Whether a claim is granted; read by the ledger (W4). */
export const CLAIM = 0
/** Quantile of its detection (O1). */
export const DETECT = 1
/** Quantile of the response. */
export const RESPOND = 2
/** Quantile of the repair. */
export const REPAIR = 3
/** By which mode it failed (M3). */
export const MODE = 4
/** Whether it takes its string down (O4). */
export const STRING = 5

/**
 * The failures of one population in all lifetimes being played: one row is one failure, or one planned replacement, of
 * one unit. Rows of one slot are in order of time, with others between them. The table grows while it is read: a row is
 * appended with its moment and its slot, and stage after stage fills its other columns. The memory is reused.
 */
export class Rows {
  /** How many there are. */
  n = 0
  #room = FIRST_ROOM
  /** Place of the lifetime among those being played. */
  lane = new Int32Array(FIRST_ROOM)
  /** Earlier row of the same slot, or −1. */
  before = new Int32Array(FIRST_ROOM)
  /** 1 while the slot has no later row. */
  last = new Uint8Array(FIRST_ROOM)
  /** Moment of failure (or of the planned replacement), years after the start. */
  failedAt = new Float64Array(FIRST_ROOM)
  /** When the unit was fitted, years; 0 for original units, whatever their age. */
  fittedAt = new Float64Array(FIRST_ROOM)
  /** Moment of detection, years; Infinity if never before the horizon. */
  detectedAt = new Float64Array(FIRST_ROOM)
  /** Moment of return to service, years; Infinity if never before the horizon. */
  returnedAt = new Float64Array(FIRST_ROOM)
  /** The shared visit that repairs it; −1: a visit of its own, or none where the population needs none. */
  visit = new Int32Array(FIRST_ROOM)
  /** REPLACED, REPAIRED or PLANNED. */
  action = new Uint8Array(FIRST_ROOM)
  /** String of an optimiser or −1, and whether the failure takes it down, 0 or 1 (O4). */
  string = new Int32Array(FIRST_ROOM)
  takesString = new Uint8Array(FIRST_ROOM)
  // the unit that fails (M3, M4): 1 if a bad batch hit it; repairs so far; age in service when it last came back
  hit = new Uint8Array(FIRST_ROOM)
  repairs = new Int32Array(FIRST_ROOM)
  serviceAge = new Float64Array(FIRST_ROOM)
  /** Failure mode by its index, where a repair needs it (M3). */
  mode = new Uint8Array(FIRST_ROOM)
  /** Virtual age and modes it can no longer fail by, once the unit is back (M3); 0 after a replacement. */
  ageAfter = new Float64Array(FIRST_ROOM)
  curedAfter = new Uint32Array(FIRST_ROOM)
  /** `NUMBERS` uniform numbers a row, in the order in which they are drawn (K1), then one unit exponential a row. */
  numbers = new Float64Array(NUMBERS * FIRST_ROOM)
  exponential = new Float64Array(FIRST_ROOM)
  /** The stream of each row's slot, after the numbers of the row. */
  readonly streams = new StreamColumns()

  /** Empties it. */
  clear(): void {
    this.n = 0
  }

  /**
   * Appends the next event of a slot.
   *
   * @param lane - its lifetime
   * @param before - earlier row of the slot, or −1; its stream continues
   * @param failedAt - moment, years
   * @param fittedAt - when the unit was fitted, years
   * @returns the row: replaced, without visit; other columns are filled by the stages
   */
  append(lane: number, before: number, failedAt: number, fittedAt: number): number {
    const row = this.n
    this.reserve(row + 1)
    this.lane[row] = lane
    this.before[row] = before
    this.failedAt[row] = failedAt
    this.fittedAt[row] = fittedAt
    this.appendTo(row + 1)
    return row
  }

  /**
   * Appends many events at once, of which lane, earlier row, failure and fitting are filled in: the rest is as `append`
   * leaves it.
   *
   * @param to - number of rows from now on
   */
  appendTo(to: number): void {
    const { n: from, last, visit, action, takesString, mode, ageAfter, curedAfter } = this
    // one loop: `fill` of each column costs more where rows are appended one by one
    for (let row = from; row < to; row++) {
      last[row] = 1
      visit[row] = -1
      action[row] = REPLACED
      takesString[row] = 0
      mode[row] = 0
      ageAfter[row] = 0
      curedAfter[row] = 0
    }
    this.#follow(from, to)
    this.n = to
  }

  /** Rows that continue a slot inherit its string and stream. */
  #follow(from: number, to: number): void {
    const { before, last, string, streams } = this
    for (let row = from; row < to; row++) {
      const earlier = before[row] as number // the row is there
      if (earlier < 0) continue
      last[earlier] = 0
      string[row] = string[earlier] as number
      streams.follow(row, earlier)
    }
  }

  /** Reserves memory for a number of rows; existing rows are kept, in new arrays. */
  reserve(rows: number): void {
    if (rows > this.#room) this.#grow(Math.max(rows, 2 * this.#room))
  }

  #grow(room: number): void {
    this.#room = room
    this.lane = grown(this.lane, room)
    this.before = grown(this.before, room)
    this.last = grown(this.last, room)
    this.failedAt = grown(this.failedAt, room)
    this.fittedAt = grown(this.fittedAt, room)
    this.detectedAt = grown(this.detectedAt, room)
    this.returnedAt = grown(this.returnedAt, room)
    this.visit = grown(this.visit, room)
    this.action = grown(this.action, room)
    this.string = grown(this.string, room)
    this.takesString = grown(this.takesString, room)
    this.hit = grown(this.hit, room)
    this.repairs = grown(this.repairs, room)
    this.serviceAge = grown(this.serviceAge, room)
    this.mode = grown(this.mode, room)
    this.ageAfter = grown(this.ageAfter, room)
    this.curedAfter = grown(this.curedAfter, room)
    this.numbers = grown(this.numbers, NUMBERS * room)
    this.exponential = grown(this.exponential, room)
    this.streams.reserve(room)
  }
}

function grown<T extends { set(from: T): void }>(column: T, room: number): T {
  // every column is a typed array, made by its length
  const larger = new (column.constructor as new (length: number) => T)(room)
  larger.set(column)
  return larger
}
