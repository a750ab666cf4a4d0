/**
 * Prices and terms of an option in one parameter set; no chance.
 */
import type { BatteryYear } from '../energy/battery/battery-year.ts'
import type { DesignLoss, PartialLoss } from '../energy/option-energy.ts'
import type { CompoundFactor } from '../numerics/compound-factor.ts'
import type { Mode } from '../numerics/lives/competing-risks.ts'
import type { ReplacementCover } from '../scenario/model/replacement-cover.ts'
import type { OutageRole } from '../topologies/kinds.ts'

/** Terms of a warranty as the ledger reads them (W1–W4). */
export interface CoverTerms {
  readonly years: number
  readonly labourYears: number
  /** Share of parts, of labour that the cover pays, [0, 1]. */
  readonly partsShare: number
  readonly labourShare: number
  readonly claimSuccess: number
  readonly replacementCover: ReplacementCover
  readonly replacementMinYears: number
  readonly visitsCovered: boolean
}

/**
 * The same terms with their fields written out; why: `unitParameters` in `history/parameters.ts`.
 *
 * @param of - the terms
 */
export function coverTerms(of: CoverTerms): CoverTerms {
  return {
    years: of.years,
    labourYears: of.labourYears,
    partsShare: of.partsShare,
    labourShare: of.labourShare,
    claimSuccess: of.claimSuccess,
    replacementCover: of.replacementCover,
    replacementMinYears: of.replacementMinYears,
    visitsCovered: of.visitsCovered,
  }
}

/** Prices and terms of one population; money in prices of the start date. */
export interface UnitTerms {
  readonly ageYears: number
  readonly count: number
  readonly role: OutageRole
  /** Share of the option's generation (of its battery) behind one unit, [0, 1]. */
  readonly unitShare: number
  readonly parts: number
  readonly labour: number
  readonly labourEachFurther: number
  readonly partsGrowth: CompoundFactor
  readonly repair: { readonly parts: number; readonly labour: number } | null
  /** Surcharge once the model is out of production (M8). */
  readonly surcharge: number
  readonly model: number
  readonly onRoof: boolean
  readonly needsVisit: boolean
  /** Further outage of a claimed failure (O1), years. */
  readonly claimYears: number
  readonly cover: CoverTerms
  /** Modes of a model with multiplier 1, for the residual value (C6). */
  readonly modes: readonly Mode[]
}

/** Prices of energy (C5): value of a kWh at t is price × growth at t, discounted. */
export interface EnergyTerms {
  readonly importPrice: number
  readonly exportPrice: number
  readonly importGrowth: CompoundFactor
  readonly exportGrowth: CompoundFactor
  /** Self-consumed share of the twelve months of a model year, from the month of commissioning. */
  readonly selfConsumed: Float64Array
}

/** Everything the ledger needs of an option in one parameter set. */
export interface OptionTerms {
  readonly horizonYears: number
  /** Worth today of money at a moment (C2): its rate is −ln(1 + discount rate). */
  readonly discount: CompoundFactor
  readonly upfrontCost: number
  /** Price of the offers taken, paid at the start (W6). */
  readonly warrantyPrice: number
  readonly yearlyCost: number
  /** What may be bought later (C8). */
  readonly later: readonly { readonly year: number; readonly chance: number; readonly cost: number }[]
  readonly callOut: number
  readonly roofAccess: number
  readonly labourGrowth: CompoundFactor
  readonly units: readonly UnitTerms[]
  /** Share of generation behind each string, in the order in which optimisers are assigned (O4). */
  readonly stringShares: Float64Array
  readonly energy: EnergyTerms
  readonly battery: {
    /** What it earns a day when new; 0 where that is not known. */
    readonly valuePerDay: number
    /** ln of the share of that value that is left after a year of its age, <= 0. */
    readonly fadeRate: number
    /** Share of the battery's value lost while the sun's inverter is down (O7). */
    readonly lostWithoutSun: number
    readonly backup: boolean
    /** Whether backup is gone while the inverter is down (O7). */
    readonly backupNeedsInverter: boolean
  } | null
}

/** Energy of an option as the ledger reads it, by month from the start. */
export interface EnergySupply {
  /** Start of each month within a model year, 13 values, years. */
  readonly monthStart: Float64Array
  /** Calendar month (0 = January) of the twelve months of a model year. */
  readonly calendarMonth: readonly number[]
  readonly idealKwh: Float64Array
  readonly deliverableKwh: Float64Array
  readonly designLossKwh: Readonly<Record<DesignLoss, Float64Array>>
  readonly designLossSelfUsedKwh: Readonly<Record<DesignLoss, Float64Array>> | null
  readonly designLossUnpaidKwh: Readonly<Record<DesignLoss, Float64Array>> | null
  readonly partialLoss: PartialLoss | null
  readonly batteryYear: BatteryYear | null
}

/**
 * The same energy with its fields written out; why: `unitParameters` in `history/parameters.ts`.
 *
 * @param of - the energy
 */
export function energySupply(of: EnergySupply): EnergySupply {
  return {
    monthStart: of.monthStart,
    calendarMonth: of.calendarMonth,
    idealKwh: of.idealKwh,
    deliverableKwh: of.deliverableKwh,
    designLossKwh: of.designLossKwh,
    designLossSelfUsedKwh: of.designLossSelfUsedKwh,
    designLossUnpaidKwh: of.designLossUnpaidKwh,
    partialLoss: of.partialLoss,
    batteryYear: of.batteryYear,
  }
}
