/** Identical units of one option: how they fail, how long that lasts, what it costs and who pays. */

import type { ComponentKind, Tier } from '../../topologies/kinds.ts'
import type { Quantity } from '../quantity.ts'
import type { Failure } from './failure.ts'
import type { ReplacementCover } from './replacement-cover.ts'

/** A delay in days: fixed, or lognormal by median and p90 (O1). */
export interface Delay {
  /** The fixed delay, or the median; days, >= 0. */
  readonly medianDays: Quantity
  /** p90 divided by the median (its middle, where it is a range), > 1; 1 for a fixed delay. */
  readonly p90OverMedian: number
}

/** What a replacement costs the payer at prices of the start date. */
export interface ReplacementPrices {
  readonly parts: Quantity
  readonly labour: Quantity
  /** null: the same as labour. */
  readonly labourEachFurther: Quantity | null
  readonly partsGrowth: Quantity
}

/** Terms of a warranty (W1–W4). */
export interface Warranty {
  readonly years: number
  readonly labourYears: number
  /** Shares paid by the cover. */
  readonly partsShare: number
  readonly labourShare: number
  readonly claimSuccess: Quantity
  readonly replacementCover: ReplacementCover
  readonly replacementMinYears: number
  readonly visitsCovered: boolean
}

/** Identical units of one option. */
export interface Population {
  readonly kind: ComponentKind
  readonly tier: Tier | null
  /** Index in Scenario.models. */
  readonly model: number
  /** Place among the option's components, from 0; with the option's name it keys the random streams (K1). */
  readonly place: number
  readonly count: number
  readonly acKw: number | null
  readonly ageYears: number
  readonly failure: Failure
  readonly detect: Delay
  readonly detectUnmonitored: Delay
  readonly respond: Delay
  readonly repair: Delay
  readonly claimDays: number
  readonly prices: ReplacementPrices
  readonly warranty: Warranty
  readonly successor: {
    readonly surcharge: number
    readonly chance: readonly (readonly [ageYears: number, share: number])[]
  } | null
  /** null: every failure replaces. atMost null: no limit (M3). */
  readonly repairRule: {
    readonly renews: number
    readonly parts: number
    readonly labour: number
    readonly atMost: number | null
  } | null
  readonly replaceAtAgeYears: number | null
  readonly onRoof: boolean
  readonly needsVisit: boolean
  /** Share of the option's generation of the whole population; null: by rule O4. */
  readonly share: number | null
  /** Share of failures that take the string down: of optimisers; 1 for a part of the string itself, 0 for all others. */
  readonly takesStringDown: Quantity
  /** Strings per inverter. */
  readonly strings: number
  /** Tracker inputs per inverter. */
  readonly inputs: number
  readonly weightedEfficiency: number | null
  /** Phases an inverter feeds; absent: one, on a three-phase site three where it is over the limit of one phase. */
  readonly phases?: 1 | 3
}
