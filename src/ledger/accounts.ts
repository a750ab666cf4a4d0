import { MONTHS_PER_YEAR } from '../units.ts'
import { COST_LINES, type LinesFrom, linesFrom } from './cost-lines.ts'

/**
 * What is recorded of each lifetime in addition to the cost lines, one column each; present values unless the name says
 * otherwise.
 */
const FURTHER_COLUMNS = [
  /** Included in `parts` as well. */
  'surcharges',
  // what covers paid in the owner's place (W4)
  'coveredParts',
  'coveredLabour',
  'coveredVisits',
  /** Visits of which the owner bears any part, whatever the price; all visits (O3). */
  'nVisits',
  'nVisitsInAll',
  /** Energy lost to outages, kWh. */
  'lostKwh',
  /** The same discounted, kWh. */
  'lostKwhDiscounted',
  /** Share-weighted years in which the option was down (O5). */
  'downYears',
  /** Share-weighted years without backup (O7). */
  'backupDownYears',
  /** Battery earnings at 1 a day, discounted and faded, less outages: days (O7). */
  'batteryDays',
] as const

const REPAIR_LINES = linesFrom('repairs')
const OUTAGE_LINES = linesFrom('outages')
const HISTORY_LINES = linesFrom('history')
const FURTHER_LINES = linesFrom('history', 'horizon')

/** The columns: every cost line that is computed by lifetime, each >= 0, and the further ones. */
export const ACCOUNT_COLUMNS = [...linesFrom('repairs', 'outages', 'history', 'horizon'), ...FURTHER_COLUMNS] as const

const NONE = new Float64Array(0)

/** One of the columns. */
export type AccountColumn = (typeof ACCOUNT_COLUMNS)[number]

class EmptyColumns {
  constructor() {
    Object.assign(this, Object.fromEntries(ACCOUNT_COLUMNS.map(column => [column, NONE])))
  }
}
// the constructor makes every column
const Columns = EmptyColumns as new () => Record<AccountColumn, Float64Array>

/** What some lifetimes cost, one entry a lane. The memory is reused. */
export class Accounts extends Columns {
  /**
   * What the owner paid in each year, undiscounted, without yearly cost (R1): lifetimes × years, row-major. Only
   * entries of years marked in `paidYears` are valid, so it is never cleared.
   */
  cash = NONE
  /** Years with a payment, a bit mask of two words a lifetime: years 0 to 31, then the rest. */
  paidYears = new Int32Array(0)
  /** Sum over all lifetimes: present value of the costs of each year, lost energy included, fixed costs excluded. */
  readonly presentByYear: Float64Array
  /** Sum over all lifetimes: energy lost to outages by calendar month, kWh. */
  readonly lostByMonthKwh = new Float64Array(12)
  /**
   * Energy lost, kWh, and its value by month from the start; `EnergyTables` moves them to years and calendar months.
   */
  readonly monthKwh: Float64Array
  readonly monthValue: Float64Array
  readonly years: number
  /** All columns end to end. */
  #memory = NONE
  #room = 0

  /** @param horizonYears - years of the cash */
  constructor(horizonYears: number) {
    super()
    this.years = horizonYears
    this.presentByYear = new Float64Array(horizonYears)
    this.monthKwh = new Float64Array(MONTHS_PER_YEAR * horizonYears)
    this.monthValue = new Float64Array(MONTHS_PER_YEAR * horizonYears)
    this.#reserve(1)
  }

  /**
   * Reserves memory for some lifetimes and clears all entries.
   *
   * @param lanes - how many
   */
  begin(lanes: number): void {
    if (lanes > this.#room) this.#reserve(lanes)
    else {
      this.#memory.fill(0)
      this.paidYears.fill(0, 0, 2 * lanes)
    }
    this.presentByYear.fill(0)
    this.lostByMonthKwh.fill(0)
  }

  #reserve(lanes: number): void {
    this.#room = lanes
    this.#memory = new Float64Array(lanes * ACCOUNT_COLUMNS.length)
    ACCOUNT_COLUMNS.forEach((column, i) => {
      this[column] = this.#memory.subarray(i * lanes, (i + 1) * lanes)
    })
    this.cash = new Float64Array(lanes * this.years)
    this.paidYears = new Int32Array(2 * lanes)
  }

  /**
   * Enters a payment of the owner.
   *
   * @param lane - the lifetime
   * @param at - moment, years, up to the horizon; the horizon itself belongs to the last year
   * @param amount - prices of the moment
   * @param present - worth today of one unit of money then
   */
  pay(lane: number, at: number, amount: number, present: number): void {
    payInto(this.cash, this.paidYears, this.presentByYear, lane, at, amount, present)
  }

  /**
   * Present value of the repairs the owner paid: parts, surcharges, labour, visits.
   *
   * @param lifetimes - how many
   * @param out - filled, one sum a lifetime
   */
  sumRepairs(lifetimes: number, out: Float64Array): void {
    this.#sum(REPAIR_LINES, lifetimes, out)
  }

  /**
   * Present value of the energy and battery use lost to outages.
   *
   * @param lifetimes - how many
   * @param out - filled, one sum a lifetime
   */
  sumOutages(lifetimes: number, out: Float64Array): void {
    this.#sum(OUTAGE_LINES, lifetimes, out)
  }

  /**
   * Present value of the other lines of lifetime cost, income negative.
   *
   * @param lifetimes - how many
   * @param valued - with the residual value (C6)
   * @param out - filled, one sum a lifetime
   */
  sumFurther(lifetimes: number, valued: boolean, out: Float64Array): void {
    out.fill(0, 0, lifetimes)
    for (const line of valued ? FURTHER_LINES : HISTORY_LINES) {
      const column = this[line]
      const { sign } = COST_LINES[line]
      for (let i = 0; i < lifetimes; i++) out[i] = (out[i] ?? 0) + sign * (column[i] ?? 0)
    }
  }

  #sum(lines: readonly LinesFrom<'repairs' | 'outages'>[], lifetimes: number, out: Float64Array): void {
    out.fill(0, 0, lifetimes)
    for (const line of lines) {
      const column = this[line]
      for (let i = 0; i < lifetimes; i++) out[i] = (out[i] ?? 0) + (column[i] ?? 0)
    }
  }

  /** `sumOutages` of one lifetime. */
  lostOf(lifetime: number): number {
    let sum = 0
    for (const line of OUTAGE_LINES) sum += this[line][lifetime] ?? 0
    return sum
  }
}

/**
 * Enters a payment of the owner, as `Accounts.pay`, with the columns passed in.
 *
 * @param cash - of the accounts, as are the next two
 * @param paidYears - years in which each lifetime paid
 * @param presentByYear - as long as the horizon
 * @param lane - the lifetime
 * @param at - moment, years, up to the horizon; the horizon itself belongs to the last year
 * @param amount - prices of the moment
 * @param present - worth today of one unit of money then
 */
export function payInto(
  cash: Float64Array,
  paidYears: Int32Array,
  presentByYear: Float64Array,
  lane: number,
  at: number,
  amount: number,
  present: number,
): void {
  const years = presentByYear.length
  const year = Math.min(Math.floor(at), years - 1)
  const i = lane * years + year
  const word = 2 * lane + (year >> 5)
  const bit = 1 << (year & 31)
  const paid = paidYears[word] as number // the lane has its words
  if ((paid & bit) === 0) {
    paidYears[word] = paid | bit
    cash[i] = amount
  } else cash[i] = (cash[i] as number) + amount
  presentByYear[year] = (presentByYear[year] as number) + amount * present
}

/** Bills of failures by component and year of failure, undiscounted (V3). */
export interface CoverTally {
  /** Parts bill, the part the terms promise, the whole bill, and what the owner paid of it; populations × years. */
  readonly partsBill: Float64Array
  readonly promised: Float64Array
  readonly wholeBill: Float64Array
  readonly paid: Float64Array
}
