/**
 * An option in one parameter set, as its history reads it; no money.
 */

import type { LognormalFactors } from '../numerics/distributions/lognormal-factors.ts'
import type { AgeTable } from '../numerics/lives/age-table.ts'
import type { Mode } from '../numerics/lives/competing-risks.ts'
import type { StreamKey } from '../numerics/random/streams.ts'
import type { EvenPoints } from './even-points.ts'

/** A delay as it is drawn: the median times a lognormal factor; null: always the median (O1). */
export interface DelayParameters {
  readonly medianYears: number
  readonly factors: LognormalFactors | null
}

/** How long the units of a population live, for a model with multiplier 1. */
export interface LifeParameters {
  readonly modes: readonly Mode[]
  /** Ages at failure of those modes. */
  readonly ages: AgeTable
  /** Cumulative hazard of an original unit that no batch hit, at the start and at the horizon. */
  readonly hazardAtStart: number
  readonly hazardAtHorizon: number
  /** Cumulative hazard of a unit that was new at the start, at the horizon. */
  readonly hazardOfNewUnit: number
}

/** Identical units of one option in one parameter set. */
export interface UnitParameters extends LifeParameters {
  /** Index in the option, and in the tables of the history. */
  readonly place: number
  readonly count: number
  /** Age of the original units at the start, years, >= 0. */
  readonly ageYears: number
  /** m of M4, > 0. */
  readonly multiplier: number
  /** Position of the model in the scenario's list. */
  readonly model: number
  /** Where a batch struck the model: share of its original units hit and the factor on their life; null: never. */
  readonly batch: { readonly affects: number; readonly lifeTimes: number } | null
  readonly detect: DelayParameters
  readonly detectUnmonitored: DelayParameters
  readonly respond: DelayParameters
  readonly repair: DelayParameters
  /**
   * Whether it is a gateway: it monitors the others, and its own faults are detected after its own `detect_days` (O2).
   */
  readonly isGateway: boolean
  readonly needsVisit: boolean
  /** M3; null: every failure replaces. atMost Infinity: no limit. */
  readonly repairRule: { readonly renews: number; readonly atMost: number } | null
  /** M6; Infinity: never. */
  readonly replaceAtAgeYears: number
  /** Chance that a failure takes its string down (O4), [0, 1]. */
  readonly takesStringDown: number
  /** Strings to which the units are assigned in turn (optimisers); 0 where none. */
  readonly strings: number
  /** Optimisers of populations listed before, which are assigned first (O4). */
  readonly dealtBefore: number
  /** Evenly spread first failures; null: at random. */
  readonly even: EvenPoints | null
  /** Streams of the population (K1). */
  readonly key: StreamKey
}

/** All of an option that its history needs, in one parameter set. */
export interface OptionParameters {
  readonly horizonYears: number
  readonly units: readonly UnitParameters[]
  /** null: every failure has a visit of its own (O3). */
  readonly visitPolicy: { readonly waitForUnits: number; readonly waitAtMostYears: number } | null
  /** When monitoring works; 'gateways': while one of them works (O2). */
  readonly monitoring: 'always' | 'never' | 'gateways'
  /** Number of units, and of gateways among them. */
  readonly nUnits: number
  readonly nGateways: number
}

/**
 * The same parameters with their fields written out. The engine compiles a loop anew for every layout of the objects that
 * it reads, and each spread makes a layout of its own; so whoever changes parameters ends with this function.
 *
 * @param of - the parameters
 */
export function unitParameters(of: UnitParameters): UnitParameters {
  return {
    place: of.place,
    count: of.count,
    ageYears: of.ageYears,
    modes: of.modes,
    ages: of.ages,
    hazardAtStart: of.hazardAtStart,
    hazardAtHorizon: of.hazardAtHorizon,
    hazardOfNewUnit: of.hazardOfNewUnit,
    multiplier: of.multiplier,
    model: of.model,
    batch: of.batch,
    detect: of.detect,
    detectUnmonitored: of.detectUnmonitored,
    respond: of.respond,
    repair: of.repair,
    isGateway: of.isGateway,
    needsVisit: of.needsVisit,
    repairRule: of.repairRule,
    replaceAtAgeYears: of.replaceAtAgeYears,
    takesStringDown: of.takesStringDown,
    strings: of.strings,
    dealtBefore: of.dealtBefore,
    even: of.even,
    key: of.key,
  }
}

/**
 * The same parameters in one layout; see `unitParameters`.
 *
 * @param of - the parameters
 */
export function optionParameters(of: OptionParameters): OptionParameters {
  return {
    horizonYears: of.horizonYears,
    // lists made by `map` and by `flatMap` differ too
    units: Array.from(of.units),
    visitPolicy: of.visitPolicy,
    monitoring: of.monitoring,
    nUnits: of.nUnits,
    nGateways: of.nGateways,
  }
}
