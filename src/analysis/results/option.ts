/** What a run finds of one option: costs, failures, outages, reserve, policies. */

import type { CostLine } from '../../ledger/cost-lines.ts'
import type { FailureEffect } from '../../simulation/sums/failure-effects.ts'
import type { ComponentKind, Tier } from '../../topologies/kinds.ts'
import type { BatteryWorth } from '../comparison/same-job.ts'
import type { VarianceShares } from './comparison.ts'
import type { CostSpread, Estimate, PercentileErrors } from './spread.ts'

/** Amount of each line of lifetime cost (C7); their sum is lifetimeCost.mean, incomes are negative. */
export type CostLines = Readonly<Record<CostLine, number>>

/** Expected number and the exact one (X1). */
export interface CheckedCount extends Estimate {
  /** From the renewal equation; null where it cannot be computed. */
  readonly exactMean: number | null
  /** Mean over the draws that exactMean is compared with: those of its parameter sets; null without exactMean. */
  readonly comparedMean: number | null
  /** (comparedMean − exactMean) / its standard error; null without exactMean or with error 0. */
  readonly zScore: number | null
}

/** One population of an option. */
export interface PopulationResult {
  readonly kind: ComponentKind
  /** The input set it was filled from; null where none was named. */
  readonly tier: Tier | null
  readonly count: number
  /** What X1 could check. */
  readonly checked: 'failures' | 'first failures' | 'none'
  readonly failures: CheckedCount
  /** Units failing at least once. */
  readonly firstFailures: CheckedCount
  /**
   * With a gateway, a visit policy or repairs: failures of the same units, each detected, visited and replaced
   * separately, from the first `draws` of the same streams (X1); null where `failures` are checked as played, or a
   * gateway is listed before other components.
   */
  readonly laterLives: (CheckedCount & { readonly draws: number }) | null
  readonly plannedReplacements: { readonly mean: number }
}

/** Cash to put aside (R1–R3), currency of the start date. */
export interface ReserveResult {
  readonly confidence: number
  readonly contributionAt: { readonly '50': number; readonly '80': number; readonly '90': number }
  readonly contributionPerYear: number
  readonly contributionPerMonth: number
  readonly chanceShort: number
  readonly meanShortfall: number
  readonly firstShortYear: number | null
  readonly fullyFundedBalance: number
  /** Per cent of fullyFundedBalance that is available at the start, >= 0. */
  readonly percentFunded: number | null
  /** Money to have ready at the start of each year. */
  readonly readyAhead: readonly number[]
  /** With `inflation`: the contribution fixed in money at each confidence; else null. */
  readonly fixedInMoney: {
    readonly '50': number
    readonly '80': number
    readonly '90': number
    readonly contributionPerYear: number
    readonly twoPart: TwoPartReserve
  } | null
  readonly twoPart: TwoPartReserve
}

/** What the answer says of the reserve (R2a). */
export interface TwoPartReserve {
  /** To have at the start, the opening balance included. */
  readonly ready: number
  /** To put aside at the start of each year. */
  readonly perYear: number
  /** Share of lifetimes in which the two pay every bill, (0, 1). */
  readonly confidence: number
}

/** Paper and effective cover by year of failure: shares, [0, 1]; null in years without failures (V3). */
export interface CoverByYear {
  readonly paper: readonly (number | null)[]
  readonly effective: readonly (number | null)[]
}

/** The same, with that of the bills of the first years added up. */
export interface CoverOverYears extends CoverByYear {
  /** Of failures in the first 10 years, or in a shorter horizon. */
  readonly firstYears: { readonly years: number; readonly paper: number | null; readonly effective: number | null }
}

/** One option. */
export interface OptionResult {
  readonly id: string
  readonly name: string
  readonly topology: string
  /** What is known of what its battery earns (O7). */
  readonly batteryWorth: BatteryWorth
  /** Names of what may be bought later, sorted (C8). */
  readonly laterPurchases: readonly string[]
  readonly lifetimeCost: CostSpread
  readonly costs: CostLines
  readonly costStandardErrors: CostLines
  /** Part of costs.parts. */
  readonly surcharges: number
  /** Mean present value of what covers paid in the owner's place (W4); null where it was not counted. */
  readonly paidByCover: { readonly parts: number; readonly labour: number; readonly visits: number } | null
  /** Of their sum: no more than this, the errors of the three added up. */
  readonly paidByCoverStandardError: number
  readonly totals: { readonly acquisition: number; readonly ownership: number; readonly withoutLostEnergy: number }
  /** Shares of lifetimes in which the owner pays for no visit, one, two or more. */
  readonly visitShares: { readonly none: number; readonly one: number; readonly twoOrMore: number }
  /** Of `visitShares.none`. */
  readonly noVisitStandardError: number
  /** Largest bill of a single year within years 10 to 15 that 9 in 10 lifetimes stay under. */
  readonly billYears10To15: { readonly p90: number; readonly standardErrors: PercentileErrors<'p90'> }
  /** Lifetime cost with straight-line residual value (C6). */
  readonly withStraightLine: { readonly mean: number }
  readonly failures: CheckedCount & { readonly atLeastOneByYear: readonly number[] }
  /** Failures by what they stop; atLeastOneByYear as that of `failures`. */
  readonly failuresByEffect: Readonly<
    Record<FailureEffect, Estimate & { readonly atLeastOneByYear: readonly number[] }>
  >
  readonly failuresByYear: readonly number[]
  readonly populations: readonly PopulationResult[]
  /** Visits of which any part falls to the owner (O3). */
  readonly visits: Estimate
  /** All visits, those under full cover too. */
  readonly visitsInAll: { readonly mean: number }
  /** Days of the whole roof over the horizon. */
  readonly downtimeDays: { readonly mean: number }
  readonly availability: { readonly timeBased: number; readonly energyWeighted: number | null }
  readonly daysWithoutBackup: number | null
  readonly energy: {
    readonly idealKwh: number
    readonly designLossKwh: {
      readonly clipping: number
      readonly shadeAndMismatch: number
      readonly conversion: number
      readonly exportLimit: number
    }
    /** Present value of the energy clipped at the inverter's limit, everything at its middle; part of costs.designEnergy. */
    readonly clippingValue: number
    readonly outageLossKwh: Estimate & { readonly p90: number; readonly standardErrors: PercentileErrors<'p90'> }
    readonly deliveredKwh: number
    readonly costPerDeliveredKwh: number | null
    /** January first. */
    readonly idealByMonthKwh: readonly number[]
    readonly deliveredByMonthKwh: readonly number[]
  }
  /** Present value of the cash of R1. */
  readonly outOfPocket: Estimate
  readonly cashByYear: { readonly mean: readonly number[] }
  readonly cumulativeCash: {
    readonly p50: readonly number[]
    readonly p80: readonly number[]
    readonly p90: readonly number[]
    readonly p95: readonly number[]
  }
  readonly largestYear: {
    readonly p50: number
    readonly p90: number
    readonly standardErrors: PercentileErrors<'p50' | 'p90'>
  }
  readonly reserve: ReserveResult
  readonly balanceByYear: {
    readonly p10: readonly number[]
    readonly p50: readonly number[]
    readonly p90: readonly number[]
  }
  /** First component, by year of failure; null in years without failures (V3). */
  readonly coverByYear: CoverByYear
  /** All components together (V3). */
  readonly coverInAll: CoverOverYears
  /** Each component of its own, in the order of the option (V3). */
  readonly coverByComponent: readonly (CoverOverYears & {
    readonly component: ComponentKind
    /** Parts term, years. */
    readonly years: number
  })[]
  /** Cost against age of planned replacement (null age: run to failure); null where no such unit reaches an age to try. */
  readonly replacementAge: {
    readonly component: string
    readonly ages: readonly number[]
    readonly cost: readonly number[]
    readonly runToFailureCost: number
    /** null: run to failure is cheaper. */
    readonly best: number | null
    readonly gain: number
    readonly standardError: number
    /** Draws played for it (X2): the first of the run. */
    readonly draws: number
  } | null
  /** Cost against waiting for more failed units; null where the option has no population with more than one unit to visit. */
  readonly waitingPolicy: {
    readonly waitForUnits: readonly number[]
    readonly waitAtMostDays: readonly number[]
    /** waitForUnits × waitAtMostDays, present value. */
    readonly cost: readonly (readonly number[])[]
    readonly best: { readonly waitForUnits: number; readonly waitAtMostDays: number }
    /** The policy in the scenario; null: a visit for each failure. */
    readonly against: { readonly waitForUnits: number; readonly waitAtMostDays: number } | null
    /** Draws played for it (X2): the first of the run. */
    readonly draws: number
    /** Mean cost under `against` less that under `best`; below 0: the policy in the scenario is the cheaper. */
    readonly saves: number
    readonly standardError: number
    /** Energy one failed unit costs in a year. */
    readonly oneUnitYear: { readonly kwh: number; readonly value: number }
  } | null
  /** Mean lifetime cost as written less that if options were treated alike (O3a); null where they are. */
  readonly countedAlike: {
    /** With a visit as soon as one unit is down; null where all wait alike, and where the option has no units to wait for. */
    readonly visitAtOnce: Estimate | null
    /** With monitoring that never fails and costs nothing; null where all are monitored alike. */
    readonly perfectMonitoring: Estimate | null
    /** Draws played for it (X2): the first of the run. */
    readonly draws: number
  } | null
  readonly variance: VarianceShares
}
