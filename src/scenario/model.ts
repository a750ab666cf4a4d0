/**
 * A scenario as the model plays it: complete, checked, every gap filled, every share a number in [0, 1], every time in
 * the unit its name says. Plain data, so that it can be sent to a worker. `resolve.ts` makes it.
 */

import type { TopologyKey } from '../topologies/index.ts'
import type { Assumption, Note } from './model/assumption.ts'
import type { Population } from './model/population.ts'
import type { UnknownInput } from './model/unknown-input.ts'
import type { Quantity } from './quantity.ts'
import type { ArraysGeneration, HourlyGeneration, Load } from './roof.ts'
import type { Taken } from './short-form/taken.ts'

/** The product model several populations may share (M4, M8). */
export interface ProductModel {
  /** Name that keys multiplier, batch and end of production. */
  readonly name: string
  /** Index of its multiplier in Scenario.unknowns; null without spread. */
  readonly multiplier: number | null
  /** Age of the oldest unit of the model at the start, over all options, years. */
  readonly oldestAgeYears: number
}

/** Who provides a cover (W5). */
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
  /** Panels fitted with optimisers, by array name; null: not given (E, arrays only). */
  readonly optimisersOn: ReadonlyMap<string, number> | null
}

/** Twelve months of energy, January first. */
export interface MonthlyGeneration {
  readonly form: 'monthly'
  readonly monthlyKwh: readonly number[]
  /** Index of the option whose quote the kWh are; null: the energy is before the design losses of any option. */
  readonly asQuotedFor: number | null
  readonly includesDowntime: number
  readonly degradation: number
}

/** Energy, prices and limits of the site. */
export interface Site {
  /** Panels on the roof; null where nothing needs it. */
  readonly panels: number | null
  /** Rated power of one panel, W; null where it is not given or each array has its own. */
  readonly panelW: number | null
  readonly generation: MonthlyGeneration | ArraysGeneration | HourlyGeneration
  /** What the household uses; absent: not given, and `selfConsumed` rules (C5). */
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
  /** As written, e.g. '2027-03'; null if not given. */
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
