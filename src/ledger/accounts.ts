import type { Stretch } from '../history/lifetimes.ts'

/** What is kept of each lifetime, one column each; present values unless a name says otherwise. */
const COLUMNS = [
  'parts',
  /** Contained in parts too. */
  'surcharges',
  'labour',
  'visits',
  // what covers paid in the owner's place (W4)
  'coveredParts',
  'coveredLabour',
  'coveredVisits',
  /** Number of paid visits (O3). */
  'nVisits',
  'outageEnergy',
  'batteryOutage',
  /** Value of what still works at the horizon by straight line (C6), >= 0. */
  'residual',
  /** Energy lost to outages, kWh. */
  'lostKwh',
  /** The same discounted, kWh. */
  'lostKwhDiscounted',
  /** Share-weighted years in which the option was down (O5). */
  'downYears',
  /** Share-weighted years without backup (O7). */
  'backupDownYears',
] as const

const NONE = new Float64Array(0)

/** One of the columns. */
export type AccountColumn = (typeof COLUMNS)[number]

/**
 * What the lifetimes of a stretch cost: entry 0 of a column belongs to its first lifetime. Serves stretch after stretch.
 */
export class Accounts implements Record<AccountColumn, Float64Array> {
  parts = NONE
  surcharges = NONE
  labour = NONE
  visits = NONE
  coveredParts = NONE
  coveredLabour = NONE
  coveredVisits = NONE
  nVisits = NONE
  outageEnergy = NONE
  batteryOutage = NONE
  residual = NONE
  lostKwh = NONE
  lostKwhDiscounted = NONE
  downYears = NONE
  backupDownYears = NONE
  /** What the owner paid in each year, undiscounted, without yearly cost (R1): lifetimes × years, row-major. */
  cash = NONE
  /** Sum over all lifetimes: present value of what fell in each year, lost energy included, without yearly cost and design losses. */
  readonly presentByYear: Float64Array
  /** Likewise: energy lost to outages by calendar month, kWh. */
  readonly lostByMonthKwh = new Float64Array(12)
  readonly years: number
  /** All columns and the cash, end to end. */
  #memory = NONE
  #room = 0

  /** @param horizonYears - years of the cash */
  constructor(horizonYears: number) {
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
    this.#memory = new Float64Array(lifetimes * (COLUMNS.length + this.years))
    COLUMNS.forEach((column, i) => {
      this[column] = this.#memory.subarray(i * lifetimes, (i + 1) * lifetimes)
    })
    this.cash = this.#memory.subarray(COLUMNS.length * lifetimes)
  }

  /** Present value of the repairs the owner paid in a lifetime: parts, surcharges, labour, visits. */
  repairsOf(lifetime: number): number {
    return (this.parts[lifetime] ?? 0) + (this.labour[lifetime] ?? 0) + (this.visits[lifetime] ?? 0)
  }

  /** Present value of the energy and battery use that a lifetime lost to outages. */
  lostOf(lifetime: number): number {
    return (this.outageEnergy[lifetime] ?? 0) + (this.batteryOutage[lifetime] ?? 0)
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
