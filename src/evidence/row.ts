import type { FigurePoints, Stated } from './stated.ts'

/** How a part is priced: a unit, or so much for each kW or kWh of its rating. */
export type PartUnit = 'USD' | 'USD/kW' | 'USD/kWh'

/** The evidence on one kind of component, or on one tier of it. */
export interface RowFigures {
  /** Share of units with an early fault. */
  readonly early: Stated
  /** Failures by chance, share a year. */
  readonly chance: Stated
  /** Wear-out, and the share failed by an age for which its life is solved (M4); null: units do not wear out. */
  readonly wearOut: {
    readonly shape: Stated
    /** Years; used as a range only with model_spread 0. */
    readonly life: Stated
    readonly anchorAgeYears: number
    readonly anchorShare: Stated
  } | null
  /** Spread between product models (M4); null: that of all kinds. */
  readonly spread: Stated | null
  /**
   * Days until a failure is noticed: median and p90 with and without monitoring, or the days of the owner alone (O2).
   */
  readonly noticed:
    | { readonly monitored: readonly [number, number]; readonly unmonitored: readonly [number, number] }
    | { readonly byOwner: number }
  readonly respondMedianDays: number
  readonly claimDays: number
  readonly coverYears: Stated
  readonly labourYears: Stated
  readonly claimSuccess: number
  /** Exits of its maker, share a year. */
  readonly exit: Stated
  readonly parts: Stated & { readonly unit: PartUnit }
  readonly labour: Stated
  /** Labour for each further unit of a visit, USD; null: as for the first. */
  readonly labourEachFurther: number | null
}

/** Range of hardware prices around their middle, from trade pages: 0.12 to 0.25 around 0.18 a watt. */
const PARTS_RANGE = { low: 0.67, high: 1.39 }

/**
 * A price for each kW, with the range of trade prices around it.
 *
 * @param value - USD a kW
 * @param stated - makes the figure of its points
 */
export function perKw(value: number, stated: (points: FigurePoints) => Stated): RowFigures['parts'] {
  return { ...stated([value, value * PARTS_RANGE.low, value * PARTS_RANGE.high]), unit: 'USD/kW' }
}

/**
 * A price of a part, by unit or by rating.
 *
 * @param unit - what it is for
 * @param stated - the figure
 */
export function per(unit: PartUnit, stated: Stated): RowFigures['parts'] {
  return { ...stated, unit }
}
