/**
 * The content of results.json (design section 7). Keys are stable: added to, never renamed. Every simulated figure
 * has its standard error beside it. Present values are in prices of the start date, discounted to it. Arrays by year
 * hold horizonYears values, index = year k (from k to k + 1 years after the start).
 */
import type { RoofFindings } from '../energy/roof-findings.ts'
import type { CostLine } from '../ledger/cost-lines.ts'
import type { Assumption, Known, Note } from '../scenario/model/assumption.ts'
import type { FailureEffect } from '../simulation/failure-effects.ts'
import type { ComponentKind, Tier } from '../topologies/kinds.ts'
import type { BatteryWorth } from './same-job.ts'

/** A simulated mean with its standard error, in the same unit. */
export interface Estimate {
  readonly mean: number
  readonly standardError: number
}

/** Amount of each line of lifetime cost (C7); their sum is lifetimeCost.mean, incomes are negative. */
export type CostLines = Readonly<Record<CostLine, number>>

/** Standard error of each percentile of a figure, in its unit, >= 0 (X2). */
export type PercentileErrors<Name extends string> = Readonly<Record<Name, number>>

/** Spread of lifetime cost over draws, currency, present value. */
export interface CostSpread extends Estimate {
  readonly p5: number
  readonly p10: number
  readonly p50: number
  readonly p90: number
  readonly p95: number
  /** Mean of the dearest tenth of lifetimes. */
  readonly worstTenthMean: number
  readonly standardErrors: PercentileErrors<'p5' | 'p10' | 'p50' | 'p90' | 'p95' | 'worstTenthMean'>
}

/** Expected number beside the exact one (X1). */
export interface CheckedCount extends Estimate {
  /** From the renewal equation; null where it cannot be had. */
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
   * With a gateway, a visit policy or repairs: failures of the same units, each found and visited by itself and replaced,
   * from the first `draws` of the same streams (X1); null where `failures` are checked as played, or a gateway
   * is listed before other components.
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
  /** Per cent of fullyFundedBalance that is there at the start, >= 0. */
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
  readonly totals: { readonly acquisition: number; readonly ownership: number; readonly withoutLostEnergy: number }
  /** Shares of lifetimes in which the owner pays for no visit, one, two or more. */
  readonly visitShares: { readonly none: number; readonly one: number; readonly twoOrMore: number }
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
  readonly coverByYear: { readonly paper: readonly (number | null)[]; readonly effective: readonly (number | null)[] }
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
    /** Energy one dead unit costs in a year. */
    readonly oneUnitYear: { readonly kwh: number; readonly value: number }
  } | null
  readonly variance: VarianceShares
}

/** Where the spread of a figure comes from (U2, K4). */
export interface VarianceShares {
  /** When and whether things fail; null where the figure does not vary. */
  readonly chanceShare: number | null
  /** What kind of product and price this is. */
  readonly unknownShare: number | null
  /** Share of `unknownShare` that rests on judgement, [0, 1]; null with nothing ±, and with too few sets for the inputs. */
  readonly judgementShare: number | null
}

/** The verdicts of a comparison (K3). */
export type Verdict =
  | 'no difference worth naming'
  | 'too close to call'
  | 'pays back'
  | 'probably pays back'
  | 'probably does not pay back'
  | 'does not pay back'

/** A difference if tiers did not differ in reliability (U1c, K5). */
export interface NullCase {
  readonly meanDifference: number
  readonly standardError: number
  readonly breakEvenPremium: number
}

/** A pair of options (K2, K3); `option` is the dearer to buy. */
export interface Comparison {
  readonly option: string
  readonly against: string
  /** mean(option) − mean(against); below 0 favours `option`. */
  readonly meanDifference: number
  readonly standardError: number
  readonly interval90: readonly [number, number]
  readonly chanceBetterOnAverage: number
  readonly chanceCheaper: number
  readonly breakEvenPremium: number
  readonly breakEvenInterval90: readonly [number, number]
  /** null: the two do not do the same job (O7, C8). */
  readonly verdict: Verdict | null
  readonly aheadFromYear: number | null
  /**
   * What the battery of one of the two would have to earn a day for both to cost the same, outages included (O7); below
   * 0: the option with it is cheaper even so; null: both or neither has one.
   */
  readonly batteryWouldHaveToEarnPerDay: number | null
  readonly varianceShares: VarianceShares
  /** The worst grade among the inputs whose 10 % to 90 % range alone turns the sign of the difference (K4); null: none does. */
  readonly verdictGrade: Known | null
  /** The verdict with judged ranges 1.5 times as wide, beside the ordinary one from the same draws (K4); null: nothing judged is drawn. */
  readonly wideRun: {
    readonly draws: number
    readonly verdict: Verdict | null
    readonly ordinaryVerdict: Verdict | null
    readonly meanDifference: number
    readonly standardError: number
    readonly chanceBetterOnAverage: number
  } | null
  /** The same difference with tier effect 0 (same reliability); null where no tier gap is played. */
  readonly withTierEffect0: NullCase | null
  /** The same with the parts of all string inverters of a tier at one price too, that of the plainest (K5). */
  readonly withTierEffect0AndSpareAlike: NullCase | null
}

/** Out-of-pocket cost against the warranty term of the first component (V1–V3). */
export interface WarrantySweep {
  readonly option: string
  readonly component: string
  readonly years: readonly number[]
  readonly outOfPocketMean: readonly number[]
  readonly outOfPocketIfProviderStays: readonly number[]
  /** Against term 0 (V2). */
  readonly worth: readonly number[]
  readonly worthStandardErrors: readonly number[]
  /** Energy lost to claims against term 0, present value; already taken off `worth`. */
  readonly energyLostToClaims: readonly number[]
  readonly offers: readonly {
    readonly component: string
    readonly years: number
    readonly labourYears: number
    readonly price: number
    readonly worth: number
    readonly worthIfProviderStays: number
    readonly standardError: number
    readonly taken: boolean
    readonly verdict: 'worth its price' | 'not worth its price' | 'too close to call'
  }[]
}

/** Where the two best options change places (S2); the difference has the sign of their comparison (K2). */
export interface SwitchPoint {
  /** In words, as `UnknownInput.label`. */
  readonly input: string
  readonly option: string | null
  readonly unit: string
  /** What the scenario has now (the middle of a range). */
  readonly present: number
  /** null: none within the range. */
  readonly value: number | null
  readonly low: number
  readonly high: number
  readonly differenceThere: number | null
  readonly standardError: number | null
  /** Draws of the run that verified the point (X2); null without one. */
  readonly draws: number | null
}

/** What one unknown does to the answer (S1). */
export interface Swing {
  /** In words, as `UnknownInput.label`. */
  readonly input: string
  readonly option: string | null
  readonly unit: string
  readonly low: number
  readonly high: number
  readonly costAtLow: number
  readonly costAtHigh: number
  /** Of the two best options, with the sign of their comparison (K2): below 0 the dearer to buy is the cheaper over its life. */
  readonly differenceAtLow: number
  readonly differenceAtHigh: number
  /** Draws played for it (X2): the first of the run. */
  readonly draws: number
}

/** Everything a run finds. */
export interface Results {
  readonly tool: { readonly name: string; readonly version: string }
  readonly scenario: {
    readonly title: string
    readonly currency: string
    readonly horizonYears: number
    readonly discountRate: number
  }
  readonly seed: number
  readonly draws: number
  readonly blocks: number
  readonly parameterSets: number
  readonly inputs: readonly Assumption[]
  readonly options: readonly OptionResult[]
  /** The roof and what each option makes of it in year 0; null unless the energy is stated as arrays (E). */
  readonly roof: RoofFindings | null
  readonly comparisons: readonly Comparison[]
  readonly warrantySweep: readonly WarrantySweep[]
  readonly switchPoints: readonly SwitchPoint[]
  readonly swings: readonly Swing[]
  /** Shares of one whole (S3), each with its standard error. */
  readonly drivers: readonly { readonly input: string; readonly share: number; readonly standardError: number }[]
  /** Parameter sets that `drivers` and shares of judgement come from, the first of the run (X2). */
  readonly driverSets: number
  readonly notes: readonly Note[]
}
