/**
 * The content of fleet.json (F7). Keys are extended, never renamed. Money is undiscounted and in the fleet's currency;
 * year arrays hold horizonYears values, index = year k.
 */
import type { FailureEffect } from '../simulation/sums/failure-effects.ts'
import type { LeftOutSite } from './left-out-site.ts'

/** A mean or a quantile with its standard error. */
export interface ValueWithError {
  readonly value: number
  readonly standardError: number
}

/** Pooled sites compared with single ones (F7), for a number of sites; money per site. */
export interface Diversification {
  readonly sites: number
  /** Groups of this many sites over which the figures are averaged. */
  readonly groups: number
  /** Level contribution a year: each site alone; pooled; pooled if nothing struck two sites at once. */
  readonly contribution: { readonly alone: number; readonly pooled: number; readonly withoutCommonCause: number }
  /** Cash to the horizon that nine of ten lifetimes stay under. */
  readonly cash90: { readonly alone: number; readonly pooled: number; readonly withoutCommonCause: number }
  /** Of the pooled figures; null for one site, where the sum over sites keeps none. */
  readonly standardError: {
    readonly contribution: { readonly pooled: number; readonly withoutCommonCause: number }
    readonly cash90: { readonly pooled: number; readonly withoutCommonCause: number }
  } | null
}

/** Sites of one model or one provider. */
export interface Carrier {
  readonly name: string
  readonly sites: number
  readonly meanCash: number
  readonly meanCashStandardError: number
  readonly shareOfCash: number
  /** Covariance of its cash with all cash, over the variance of all cash; null where nothing varies. */
  readonly shareOfRisk: number | null
  /** Its share of cash in the worst tenth of the draws. */
  readonly shareInWorstTenth: number
  /** Chance of what strikes all its sites: a bad batch, or the provider's exit before the horizon. */
  readonly chanceStruck: number | null
  /** Mean cash of its sites where it was struck, less that where not; null where one of them never was. */
  readonly dearerWhenStruck: ValueWithError | null
}

/** A roof that needs attention before others (F7a); figures rounded as in sites.csv. */
export interface FirstSite {
  readonly id: string
  readonly option: string
  /** Model of its first component; '' where the site shares it with no other. */
  readonly model: string
  /** Of its first component, years. */
  readonly ageYears: number
  /** Parts cover left at the start, years (W2). */
  readonly coverLeftYears: number
  /** That something other than monitoring fails. */
  readonly chanceNextYear: number
  readonly chanceNextFiveYears: number
  /** Expected, money. */
  readonly billNextYear: number
  readonly billNextFiveYears: number
  readonly why: string
}

/** Expected bills of all sites: the mean of the pool, and the sum of the figures of single sites. */
export interface ExpectedBills {
  readonly pooled: ValueWithError
  /** The same to the hundredth; a self-check. */
  readonly sumOfSites: number
}

/** A product model. */
export interface ModelCarrier extends Carrier {
  readonly failuresByYear: readonly number[]
  readonly firstFailuresByYear: readonly number[]
  /** Year in which most of its original units fail; null without failures. */
  readonly peakYear: number | null
  /** Share of its original units that fail in that year and in the years next to it. */
  readonly shareAroundPeak: number | null
}

/** What to have ready and what to put aside, all sites together (R2a). */
export interface FleetTwoPart {
  /** At the start, the opening balance included. */
  readonly ready: ValueWithError
  /** At the start of each year. */
  readonly perYear: ValueWithError
  /** Share of futures in which the two pay every bill, (0, 1). */
  readonly confidence: number
  /** Share of futures in which they do not; what is lacking then at its worst, on average; median first such year. */
  readonly chanceShort: number
  readonly meanShortfall: number
  readonly firstShortYear: number | null
}

/** What fleet.json holds. */
export interface FleetResults {
  readonly tool: { readonly name: string; readonly version: string }
  readonly fleet: {
    readonly title: string
    readonly source: string
    readonly option: string | null
    readonly currency: string
    readonly horizonYears: number
    readonly listed: number
    readonly played: number
    readonly leftOut: number
    /** Sites whose age is not known, and the age assumed for them, in words (F7a). */
    readonly unknownAges: { readonly sites: number; readonly takenAs: string }
    readonly mark: string
  }
  readonly seed: number
  readonly draws: number
  readonly cash: {
    readonly mean: ValueWithError
    readonly p10: ValueWithError
    readonly p50: ValueWithError
    readonly p90: ValueWithError
    readonly p95: ValueWithError
    readonly perSiteMean: number
  }
  readonly failures: { readonly mean: ValueWithError; readonly p10: ValueWithError; readonly p90: ValueWithError }
  /** Means of the same by what they stop: energy, monitoring alone, the battery alone. */
  readonly failuresByEffect: Readonly<Record<FailureEffect, ValueWithError>>
  readonly lostKwh: { readonly mean: ValueWithError; readonly p90: ValueWithError }
  readonly reserve: {
    readonly confidence: number
    readonly interest: number
    readonly opening: number
    readonly contributionAt: {
      readonly '50': ValueWithError
      readonly '80': ValueWithError
      readonly '90': ValueWithError
    }
    readonly contributionPerYear: ValueWithError
    readonly contributionPerSite: number
    readonly chanceShort: number
    readonly meanShortfall: number
    readonly firstShortYear: number | null
    readonly readyAhead: readonly number[]
    readonly fixedInMoney: number | null
    /** What the answer says (R2a). */
    readonly twoPart: FleetTwoPart
    /** With `inflation`: the deposit fixed in money; else null. */
    readonly twoPartFixedInMoney: FleetTwoPart | null
  }
  /** What may be bought later, by the draws of each site; no part of cash and reserve; null where nothing may (C8). */
  readonly later: {
    readonly names: readonly string[]
    /** Sites that may buy. */
    readonly sites: number
    /** How often something is bought, all sites together. */
    readonly bought: ValueWithError
    readonly cost: { readonly mean: ValueWithError; readonly p90: ValueWithError }
    readonly costByYear: readonly number[]
  } | null
  readonly cashByYear: {
    readonly mean: readonly number[]
    readonly p10: readonly number[]
    readonly p50: readonly number[]
    readonly p80: readonly number[]
    readonly p90: readonly number[]
    readonly p95: readonly number[]
    readonly standardError: Readonly<Record<'mean' | 'p10' | 'p50' | 'p80' | 'p90' | 'p95', readonly number[]>>
  }
  readonly cumulativeCash: {
    readonly p50: readonly number[]
    readonly p80: readonly number[]
    readonly p90: readonly number[]
    readonly p95: readonly number[]
  }
  readonly failuresByYear: {
    readonly mean: readonly number[]
    readonly p10: readonly number[]
    readonly p90: readonly number[]
    readonly standardError: Readonly<Record<'mean' | 'p10' | 'p90', readonly number[]>>
  }
  /** Of the failures, those of monitoring alone. */
  readonly monitoringFailuresByYear: { readonly mean: readonly number[]; readonly standardError: readonly number[] }
  /** Visits, covered ones too, by year of the return. */
  readonly visitsByYear: { readonly mean: readonly number[]; readonly standardError: readonly number[] }
  /** The roofs that come first, at most ten, in order (F7a). */
  readonly firstSites: readonly FirstSite[]
  readonly expectedBills: {
    readonly nextYear: ExpectedBills
    readonly nextFiveYears: ExpectedBills
    readonly toHorizon: ExpectedBills
  }
  /** Years by their mean cash, dearest first; at most five. */
  readonly dearestYears: readonly {
    readonly year: number
    readonly mean: number
    readonly p90: number
    readonly shareOfAll: number
  }[]
  readonly diversification: readonly Diversification[]
  /** Standard deviation of the fleet's cash to the horizon. */
  readonly spread: {
    readonly pooled: ValueWithError
    readonly withoutCommonCause: ValueWithError
    readonly ifSitesWereIndependent: number
    readonly commonCauseShare: number | null
  }
  readonly models: readonly ModelCarrier[]
  readonly warranties: readonly Carrier[]
  readonly leftOut: readonly LeftOutSite[]
  readonly notes: readonly { readonly code: string; readonly text: string }[]
}
