/**
 * What is kept of the draws of one option: sums by parameter set for means and their errors, single numbers by draw for
 * quantiles, payments for percentiles by year.
 */

import { comparedColumns, type Stretches } from '../../history/expected-failures.ts'
import { ACCOUNT_COLUMNS } from '../../ledger/accounts.ts'
import { linesFrom } from '../../ledger/cost-lines.ts'
import { FAILURE_EFFECTS } from './failure-effects.ts'
import type { PaymentColumns } from './payments.ts'

/** Columns that are summed over the draws of every parameter set; present values unless the name says otherwise. */
export const SUM_COLUMNS = [
  'lifetimeCost',
  'outOfPocket',
  'noVisit',
  'failures',
  ...FAILURE_EFFECTS,
  ...linesFrom('set'),
  ...ACCOUNT_COLUMNS,
] as const

/** One of them. */
export type SumColumn = (typeof SUM_COLUMNS)[number]

/** Place of each column in a row of sums. */
export const SUM_PLACE: Readonly<Record<SumColumn, number>> = placesOf(SUM_COLUMNS)

/** Columns of each population, after the common ones. */
export const POPULATION_COLUMNS = ['failures', 'firstFailures', 'plannedReplacements'] as const

/** Place of each of them among the columns of its population. */
export const POPULATION_COLUMN_PLACE: Readonly<Record<(typeof POPULATION_COLUMNS)[number], number>> =
  placesOf(POPULATION_COLUMNS)

/** Columns of each term of the warranty sweep. */
const SWEEP_COLUMNS = ['paid', 'energy', 'paidIfStays', 'worth'] as const

/** One of the columns of the sweep. */
export type SweepColumn = (typeof SWEEP_COLUMNS)[number]

/** Columns of control variates, after the others (X3): see `controls.ts`. */
export interface ControlLayout {
  readonly populations: number
  /** Stretches of years over which failures are compared with their expected number. */
  readonly stretches: Stretches
  /** Models of the option, whose batches are compared likewise. */
  readonly models: number
  /** Scales of a parameter set: lives and prices. */
  readonly scales: number
}

/** Where the columns of an option lie in a row of sums. */
export class SumLayout {
  readonly populations: number
  /** Terms of the warranty sweep: 0 … horizon; 0 without sweep. */
  readonly sweepTerms: number
  readonly offers: number
  /** null: means are plain. */
  readonly controls: ControlLayout | null

  constructor(populations: number, sweepTerms: number, offers: number, controls: ControlLayout | null = null) {
    this.populations = populations
    this.sweepTerms = sweepTerms
    this.offers = offers
    this.controls = controls
  }

  /** Place of a common column. */
  of(column: SumColumn): number {
    return SUM_PLACE[column]
  }

  /** Place of a column of a population. */
  ofPopulation(population: number, column: (typeof POPULATION_COLUMNS)[number]): number {
    return SUM_COLUMNS.length + POPULATION_COLUMNS.length * population + POPULATION_COLUMN_PLACE[column]
  }

  /**
   * Place of the sweep: what the owner pays, the energy lost to outages, what the owner pays if providers stay, and
   * what the term is worth compared with none (V2).
   */
  ofSweep(term: number, column: SweepColumn): number {
    const which = SWEEP_COLUMNS.indexOf(column)
    return SUM_COLUMNS.length + POPULATION_COLUMNS.length * this.populations + which * this.sweepTerms + term
  }

  /** Place of the worth of an offer, with providers as they are and if they stay (V2, V3). */
  ofOffer(offer: number, ifStays: boolean): number {
    return this.ofSweep(0, 'paid') + SWEEP_COLUMNS.length * this.sweepTerms + 2 * offer + (ifStays ? 1 : 0)
  }

  /** Place of the first control (X3): unexpected failures, unexpected batches, scales. */
  get firstControl(): number {
    return this.ofOffer(this.offers, false)
  }

  /** Place of a sum by year, where there are controls. */
  ofYear(column: 'cash' | 'present', year: number): number {
    const years = this.controls?.stretches.horizonYears ?? 0
    return this.#firstYear + (column === 'cash' ? 0 : years) + year
  }

  /** Place of the energy lost in a calendar month, where there are controls. */
  ofMonth(month: number): number {
    return this.#firstYear + 2 * (this.controls?.stretches.horizonYears ?? 0) + month
  }

  get #firstYear(): number {
    if (this.controls === null) return this.firstControl
    const { populations, stretches, models, scales } = this.controls
    return this.firstControl + populations * comparedColumns(stretches) + models + scales
  }

  /** Length of a row. */
  get length(): number {
    return this.controls === null ? this.firstControl : this.ofMonth(12)
  }
}

/** Results of the draws of one option, in order of the draws. */
export interface OptionDraws {
  readonly draws: number
  /** Sets × columns, row-major: sums over the draws of each set. */
  readonly setSums: Float64Array
  /** Columns: sums of squares over all draws. */
  readonly squares: Float64Array
  /** By draw. */
  readonly lifetimeCost: Float64Array
  readonly lostKwh: Float64Array
  /** Contribution the draw needs (R2), and the same fixed in money; empty without inflation. */
  readonly need: Float64Array
  readonly needInMoney: Float64Array
  readonly largestYear: Float64Array
  readonly bill10To15: Float64Array
  /** Payments other than yearly cost, block by block: DRAWS_PER_BLOCK draws each, the rest in the last. */
  readonly payments: readonly PaymentColumns[]
  /** By parameter set: yearly cost, undiscounted. */
  readonly yearlyCost: Float64Array
  /** By year, sums over draws. */
  readonly byYear: {
    readonly failures: Float64Array
    /** Draws whose first failure fell in the year. */
    readonly firstFailed: Float64Array
    /** The same of failures that stop energy, monitoring alone, the battery alone. */
    readonly firstStopsEnergy: Float64Array
    readonly firstMonitoringOnly: Float64Array
    readonly firstBatteryOnly: Float64Array
    readonly cash: Float64Array
    /** Present value of all that fell in the year, without purchase and residual. */
    readonly present: Float64Array
    /** Of each population; populations × years. */
    readonly partsBill: Float64Array
    readonly promised: Float64Array
    readonly wholeBill: Float64Array
    readonly paid: Float64Array
  }
  /** Energy lost to outages by calendar month, kWh, sums over draws. */
  readonly lostByMonthKwh: Float64Array
  /** Draws with no paid visit, one, two or more. */
  readonly visitCounts: Float64Array
}

/**
 * Columns for the results of the draws of one option.
 *
 * @param draws - how many
 * @param sets - parameter sets
 * @param row - sums of a set, from the layout
 * @param years - of the horizon
 * @param inMoney - whether contributions fixed in money are wanted
 * @param payments - to be filled
 * @param populations - whose cover is tallied
 * @returns all 0
 */
export function emptyDraws(
  draws: number,
  sets: number,
  row: number,
  years: number,
  inMoney: boolean,
  payments: readonly PaymentColumns[],
  populations = 1,
): OptionDraws {
  const byYear = (): Float64Array => new Float64Array(years)
  const ofEach = (): Float64Array => new Float64Array(populations * years)
  return {
    draws,
    setSums: new Float64Array(sets * row),
    squares: new Float64Array(row),
    lifetimeCost: new Float64Array(draws),
    lostKwh: new Float64Array(draws),
    need: new Float64Array(draws),
    needInMoney: new Float64Array(inMoney ? draws : 0),
    largestYear: new Float64Array(draws),
    bill10To15: new Float64Array(draws),
    payments,
    yearlyCost: new Float64Array(sets),
    byYear: {
      failures: byYear(),
      firstFailed: byYear(),
      firstStopsEnergy: byYear(),
      firstMonitoringOnly: byYear(),
      firstBatteryOnly: byYear(),
      cash: byYear(),
      present: byYear(),
      partsBill: ofEach(),
      promised: ofEach(),
      wholeBill: ofEach(),
      paid: ofEach(),
    },
    lostByMonthKwh: new Float64Array(12),
    visitCounts: new Float64Array(3),
  }
}

function placesOf<Name extends string>(names: readonly Name[]): Record<Name, number> {
  // every name of the list is a key
  return Object.fromEntries(names.map((name, place) => [name, place])) as Record<Name, number>
}
