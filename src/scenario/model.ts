/**
 * A scenario as the model plays it: complete, checked, every gap filled, every share a number in [0, 1], every time in
 * the unit its name says. Plain data, so that it can be handed to a worker. `resolve.ts` makes it.
 */

import type { FigureKnown } from '../evidence/stated.ts'
import type { TopologyKey } from '../topologies/index.ts'
import type { ComponentKind, Tier } from '../topologies/kinds.ts'
import type { Quantity } from './quantity.ts'
import type { ArraysGeneration, HourlyGeneration, Load } from './roof.ts'
import type { Taken } from './short-form/taken.ts'

/** How well a value is known: the user's own, or the grade of the evidence. */
export type Known = 'yours' | FigureKnown

/** One line of the list of assumptions: a value with its unit and where it came from. */
export interface Assumption {
  /** Key path; options and components are named, e.g. `Plain string inverter / string-inverter / warranty.years`. */
  readonly key: string
  /** The value in use (the middle of a range); text where it is no number. */
  readonly value: number | string | null
  readonly low: number | null
  readonly high: number | null
  readonly unit: string
  /** Where it comes from: 'your scenario' or author, year, title. */
  readonly source: string
  readonly known: Known
  /** Weakest point of the figure in a few words; null for what the user wrote. */
  readonly weakest: string | null
}

/** Something a reader has to be told; `option` is the id (A, B, …) it belongs to, or null for all. */
export interface Note {
  /** Stable kebab-case word. */
  readonly code: string
  /** One or two sentences. */
  readonly text: string
  readonly option: string | null
}

/** An input that is not known and is drawn once a parameter set (U1). */
export interface UnknownInput {
  /** Name that keys its permutation: does not change when options are added or reordered (U1). */
  readonly name: string
  /** As the report calls it, in words, e.g. "labour for a repair (Plain string inverter)". */
  readonly label: string
  readonly unit: string
  /** 10 %, 50 % and 90 % points of the quantity it moves (the first one, where several share it). */
  readonly low: number
  readonly middle: number
  readonly high: number
  /**
   * normal: scores of two-piece quantities. multiplier: m of M4, gamma with mean 1 and the given spread.
   * uniform: the tier effect (U1c), uniform between 0 and 2.
   */
  readonly kind: 'normal' | 'multiplier' | 'uniform'
  /** How well its range is known: the grade of the figure it comes from. */
  readonly known: Known
  /** Factor on its distance from the middle, on its own scale; absent: 1. The wide run of K4 sets it. */
  readonly widened?: number
}

/** A delay in days: fixed, or lognormal by median and p90 (O1). */
export interface Delay {
  /** The fixed delay, or the median; days, >= 0. */
  readonly medianDays: Quantity
  /** p90 divided by the median (its middle, where it is a range), > 1; 1 for a fixed delay. */
  readonly p90OverMedian: number
}

/** How the life of a mode is stated; see M4 for what each describes. */
export type LifeForm =
  | { readonly form: 'life'; readonly shape: Quantity; readonly lifeYears: Quantity }
  | { readonly form: 'b10'; readonly shape: Quantity; readonly b10Years: Quantity }
  | { readonly form: 'mean'; readonly shape: Quantity; readonly meanYears: Quantity }
  /** `shape` null: two points, solved for both. */
  | {
      readonly form: 'failed-by'
      readonly shape: Quantity | null
      readonly points: readonly { readonly ageYears: number; readonly share: Quantity }[]
    }

/** One failure mode as stated (M1). */
export interface StatedMode {
  readonly cause: string
  /** Share of units that can fail by it, (0, 1]. */
  readonly susceptible: Quantity
  readonly life: LifeForm
}

/** The three evidence modes of one row (design section 12), in the quantities of the row. */
export interface EvidenceRow {
  readonly earlyShare: number
  readonly chanceRatePerYear: number
  /** Share failed by the anchor age, averaged over models. */
  readonly anchorShare: number | null
}

/** The plain row beside that of a tier: each figure moved by the same unknown as the tier's own (U1b, U1c). */
export interface PlainRow {
  readonly earlyShare: Quantity
  readonly chanceRatePerYear: Quantity
  /** Only with spread 0, as the tier's own. */
  readonly wearLifeYears: Quantity | null
  /** Share failed by the anchor age, averaged over models. */
  readonly anchorShare: number
}

/** Failure taken from evidence: early, chance and wear-out mode, wear-out life solved at the anchor (section 12, U1b, U1c). */
export interface EvidenceFailure {
  readonly form: 'evidence'
  readonly row: EvidenceRow
  /** The plain row of the same kind, against which a tier effect acts (U1c); null where no tier effect applies. */
  readonly plainRow: PlainRow | null
  /** Susceptible share of the early mode. */
  readonly earlyShare: Quantity
  readonly earlyShape: number
  readonly earlyLifeYears: number
  /** Middle without range while the spread is on. */
  readonly chanceRatePerYear: Quantity
  /** null: the units do not wear out, and there is no anchor. */
  readonly wearShape: Quantity | null
  /** Only with spread 0: the wear-out life as a range of its own; else null and solved at the anchor. */
  readonly wearLifeYears: Quantity | null
  readonly anchorAgeYears: number | null
}

/** Failure as the user states it: one mode or several. */
export interface StatedFailure {
  readonly form: 'stated'
  readonly modes: readonly StatedMode[]
}

/** Failure from fitted field records: equally likely parameter draws, picked by one unknown (U1, design section 8). */
export interface FittedFailure {
  readonly form: 'fitted'
  /** Index into Scenario.unknowns of the input that picks the draw; null: always the estimate. */
  readonly unknown: number | null
  /** Each: the modes of one draw, numbers only. The first is the maximum-likelihood estimate. */
  readonly draws: readonly (readonly {
    readonly cause: string
    readonly susceptible: number
    readonly shape: number
    readonly lifeYears: number
  }[])[]
  /** One sentence for the report: 'your records: 37 failures among 412 units'. */
  readonly said: string
}

/** The failure model of a population, before a parameter set is chosen. */
export interface Failure {
  readonly source: EvidenceFailure | StatedFailure | FittedFailure
  /** c of M4: coefficient of variation of the model's multiplier, >= 0. */
  readonly modelSpread: number
  /** Serial defect of the model (M4); null: none. */
  readonly badBatch: { readonly chance: Quantity; readonly affects: Quantity; readonly lifeTimes: number } | null
  /** M2: the survival of the units so far counts as evidence. */
  readonly noneFailedSoFar: boolean
  /** Factor on the characteristic life, for switch points (S2): of the wear-out mode of evidence, else of every mode. */
  readonly lifeFactor?: number
}

/** The product model several populations may share (M4, M8). */
export interface ProductModel {
  /** Name that keys multiplier, batch and end of production. */
  readonly name: string
  /** Index of its multiplier in Scenario.unknowns; null without spread. */
  readonly multiplier: number | null
  /** Age of the oldest unit of the model at the start, over all options, years. */
  readonly oldestAgeYears: number
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
  readonly replacementCover: 'remaining' | 'renewed' | 'new-if-bought'
  readonly replacementMinYears: number
  readonly visitsCovered: boolean
}

/** Identical units of one option (design section 2). */
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

/** Who stands behind a cover (W5). */
export interface Provider {
  readonly name: string
  readonly exitRatePerYear: Quantity
}

/** A priced change of terms (W6). */
export interface WarrantyOffer {
  /** Place of the component in the option. */
  readonly place: number
  readonly years: number
  readonly labourYears: number
  readonly price: number
  readonly taken: boolean
}

/** Something that may be bought for an option later (C8). */
export interface LaterPurchase {
  readonly name: string
  /** Years after the start; rounded down. */
  readonly year: Quantity
  readonly chance: Quantity
  /** Prices of the start date. */
  readonly cost: Quantity
}

/** The battery of an option (O7). */
export interface Battery {
  /** What it earns; null: not known. */
  readonly worth:
    | { readonly form: 'stated'; readonly valuePerDay: Quantity }
    | ({ readonly form: 'computed'; readonly fadePerYear: number } & BatterySize)
    | null
  /** Share of its value that it keeps while the sun's inverter is down, [0, 1]. */
  readonly withoutSun: number
  readonly backup: boolean
}

/** A battery as it is built. */
export interface BatterySize {
  /** Usable capacity, kWh, >= 0. */
  readonly kwh: number
  /** Most that it takes or gives, kW, >= 0. */
  readonly kw: number
  /** Share of what is charged that comes out again, (0, 1]; lost on charging. */
  readonly roundTrip: number
  /** Behind the inverter of the panels, so that it also takes what that inverter clips. */
  readonly dcCoupled: boolean
  /** Rated power of the panels, kW; null: not known. */
  readonly panelsKw: number | null
}

/** One design on offer. */
export interface Option {
  /** A, B, …, Z, AA in listed order. */
  readonly id: string
  readonly name: string
  readonly topology: TopologyKey
  readonly upfrontCost: number
  readonly includes: readonly string[]
  readonly yearlyCost: Quantity
  /** What may be bought later, names unique (C8). */
  readonly later: readonly LaterPurchase[]
  /** Without a gateway component: whether monitoring always works or never; null with a gateway. */
  readonly monitoring: 'built-in' | 'none' | null
  readonly populations: readonly Population[]
  readonly warrantyProvider: Provider
  readonly labourProvider: Provider
  readonly offers: readonly WarrantyOffer[]
  readonly visitPolicy: { readonly waitForUnits: number; readonly waitAtMostDays: number } | null
  /** null: the option has none. */
  readonly battery: Battery | null
  readonly designLosses: { readonly mismatchAndShade: number; readonly clipping: number; readonly conversion: number }
  /** Panels fitted with optimisers, by array name; null: not told (E, arrays only). */
  readonly optimisersOn: ReadonlyMap<string, number> | null
}

/** Twelve months of energy, January first. */
export interface MonthlyGeneration {
  readonly form: 'monthly'
  readonly monthlyKwh: readonly number[]
  /** Index of the option whose quote the kWh are; null: the neutral definition of section 4. */
  readonly asQuotedFor: number | null
  readonly includesDowntime: number
  readonly degradation: number
}

/** What the site is paid, pays and is allowed (section 4). */
export interface Site {
  /** Panels on the roof; null where nothing needs it. */
  readonly panels: number | null
  /** Rated power of one panel, W; null where it is not told or each array has its own. */
  readonly panelW: number | null
  readonly generation: MonthlyGeneration | ArraysGeneration | HourlyGeneration
  /** What the household uses; absent: not told, and `selfConsumed` rules (C5). */
  readonly load?: Load
  readonly energyValue: {
    readonly importPricePerKwh: Quantity
    readonly exportPricePerKwh: Quantity
    /** One figure, or twelve from January. */
    readonly selfConsumed: Quantity | readonly number[]
    readonly importGrowth: Quantity
    readonly exportGrowth: Quantity
  }
  readonly network: {
    readonly phases: 1 | 3
    readonly acLimitKwPerPhase: number | null
    readonly exportLimitKw: number | null
    readonly maxDcAcRatio: number
    readonly netsAcrossPhases: boolean
  }
}

/** A complete scenario. */
export interface Scenario {
  /** Words of the short form, and what each was taken as. */
  readonly taken: readonly Taken[]
  readonly title: string
  readonly currency: string
  readonly horizonYears: number
  /** Calendar month of commissioning, 1–12. */
  readonly startMonth: number
  /** As written, e.g. '2027-03'; null if not told. */
  readonly start: string | null
  readonly discountRate: number
  readonly residualValue: 'none' | 'straight-line'
  readonly reserve: {
    readonly interest: number
    readonly opening: number
    readonly confidence: number
    readonly inflation: number | null
  }
  /** Index in `unknowns` of the tier effect where it is drawn; a number where it is fixed; null where no population takes it. */
  readonly tierEffect: { readonly unknown: number } | { readonly fixed: number } | null
  readonly site: Site
  readonly visit: { readonly callOut: Quantity; readonly roofAccess: Quantity; readonly labourGrowth: Quantity }
  readonly options: readonly Option[]
  readonly models: readonly ProductModel[]
  readonly unknowns: readonly UnknownInput[]
  readonly assumptions: readonly Assumption[]
  readonly notes: readonly Note[]
}
