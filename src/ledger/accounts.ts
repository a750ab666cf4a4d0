import type { Stretch } from '../history/lifetimes.ts'
import { COST_LINES, type LinesFrom, linesFrom } from './cost-lines.ts'

/** What is kept of each lifetime besides the cost lines, one column each; present values unless a name says otherwise. */
const FURTHER_COLUMNS = [
  /** Contained in parts too. */
  'surcharges',
  // what covers paid in the owner's place (W4)
  'coveredParts',
  'coveredLabour',
  'coveredVisits',
  /** Number of visits of which any part falls to the owner, whatever its price, and of all visits (O3). */
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
  /** Days that the battery earns, each worth what it is discounted and faded: what it earns at 1 a day, less outages (O7). */
  'batteryDays',
] as const

const REPAIR_LINES = linesFrom('repairs')
const OUTAGE_LINES = linesFrom('outages')
const HISTORY_LINES = linesFrom('history')
const FURTHER_LINES = linesFrom('history', 'horizon')

/** The columns: every cost line that is found lifetime by lifetime, each >= 0, and what is kept besides. */
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

/**
 * What the lifetimes of a stretch cost: entry 0 of a column belongs to its first lifetime. Reused for stretch after
 * stretch.
 */
export class Accounts extends Columns {
  /** What the owner paid in each year, undiscounted, without yearly cost (R1): lifetimes × years, row-major. */
  cash = NONE
  /** Sum over all lifetimes: present value of what fell in each year, lost energy included, without what no failure changes. */
  readonly presentByYear: Float64Array
  /** Likewise: energy lost to outages by calendar month, kWh. */
  readonly lostByMonthKwh = new Float64Array(12)
  readonly years: number
  /** All columns and the cash, end to end. */
  #memory = NONE
  #room = 0

  /** @param horizonYears - years of the cash */
  constructor(horizonYears: number) {
    super()
    this.years = horizonYears
    this.presentByYear = new Float64Array(horizonYears)
    this.#reserve(1)
  }

  /** Makes room for a stretch and empties it. */
  begin({ first, end }: Stretch): void {
    if (end - first > this.#room) this.#reserve(end - first)
    else this.#memory.fill(0)
    this.presentByYear.fill(0)
    this.lostByMonthKwh.fill(0)
  }

  #reserve(lifetimes: number): void {
    this.#room = lifetimes
    this.#memory = new Float64Array(lifetimes * (ACCOUNT_COLUMNS.length + this.years))
    ACCOUNT_COLUMNS.forEach((column, i) => {
      this[column] = this.#memory.subarray(i * lifetimes, (i + 1) * lifetimes)
    })
    this.cash = this.#memory.subarray(ACCOUNT_COLUMNS.length * lifetimes)
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
   * What else belongs to lifetime cost, incomes negative.
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

  /** `sumRepairs` of one lifetime. */
  repairsOf(lifetime: number): number {
    let sum = 0
    for (const line of REPAIR_LINES) sum += this[line][lifetime] ?? 0
    return sum
  }

  /** `sumOutages` of one lifetime. */
  lostOf(lifetime: number): number {
    let sum = 0
    for (const line of OUTAGE_LINES) sum += this[line][lifetime] ?? 0
    return sum
  }
}

/** Bills of failures of one component by year of failure, undiscounted (V3). */
export interface CoverTally {
  /** Parts bill, the part the terms promise, the whole bill, and what the owner paid of it, by year of failure. */
  readonly partsBill: Float64Array
  readonly promised: Float64Array
  readonly wholeBill: Float64Array
  readonly paid: Float64Array
}
