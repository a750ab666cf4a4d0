/**
 * What one lifetime of one option cost: present values unless a name says otherwise. Serves draw after draw.
 */
export class Account {
  parts = 0
  /** Contained in parts too. */
  surcharges = 0
  labour = 0
  visits = 0
  /** What covers paid in the owner's place (W4). */
  coveredParts = 0
  coveredLabour = 0
  coveredVisits = 0
  /** Number of paid visits (O3). */
  nVisits = 0
  outageEnergy = 0
  batteryOutage = 0
  /** Value of what still works at the horizon by straight line (C6), >= 0. */
  residual = 0
  /** Energy lost to outages, kWh. */
  lostKwh = 0
  /** The same discounted, kWh. */
  lostKwhDiscounted = 0
  /** Share-weighted years in which the option was down (O5). */
  downYears = 0
  /** Share-weighted years without backup (O7). */
  backupDownYears = 0
  /** What the owner paid in each year, undiscounted, without yearly cost (R1). */
  readonly cash: Float64Array
  /** Present value of what fell in each year, lost energy included, without yearly cost and design losses. */
  readonly present: Float64Array
  /** Energy lost to outages by calendar month, kWh. */
  readonly lostByMonthKwh = new Float64Array(12)

  constructor(horizonYears: number) {
    this.cash = new Float64Array(horizonYears)
    this.present = new Float64Array(horizonYears)
  }

  /** Empties the account for the next draw. */
  clear(): void {
    this.parts = 0
    this.surcharges = 0
    this.labour = 0
    this.visits = 0
    this.coveredParts = 0
    this.coveredLabour = 0
    this.coveredVisits = 0
    this.nVisits = 0
    this.outageEnergy = 0
    this.batteryOutage = 0
    this.residual = 0
    this.lostKwh = 0
    this.lostKwhDiscounted = 0
    this.downYears = 0
    this.backupDownYears = 0
    this.cash.fill(0)
    this.present.fill(0)
    this.lostByMonthKwh.fill(0)
  }

  /** Present value of the repairs the owner paid: parts, surcharges, labour, visits. */
  get repairs(): number {
    return this.parts + this.labour + this.visits
  }
}

/** Bills of failures of one component by year of failure, undiscounted (V3). */
export class CoverTally {
  /** Parts bill, the part the terms promise, the whole bill, and what the owner paid of it, by year of failure. */
  readonly partsBill: Float64Array
  readonly promised: Float64Array
  readonly wholeBill: Float64Array
  readonly paid: Float64Array

  constructor(horizonYears: number) {
    this.partsBill = new Float64Array(horizonYears)
    this.promised = new Float64Array(horizonYears)
    this.wholeBill = new Float64Array(horizonYears)
    this.paid = new Float64Array(horizonYears)
  }
}
