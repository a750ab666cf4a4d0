/**
 * What an option would deliver if nothing ever failed, and its design losses: the result of the energy chain, which the
 * ledger reads. Months run from the start of the scenario: index = 12·year + month of that year.
 */

import type { BatteryYear } from './battery/battery-year.ts'

/** The four losses of a design (C7). */
export const DESIGN_LOSSES = ['clipping', 'shadeAndMismatch', 'conversion', 'exportLimit'] as const

/** One of the four design losses. */
export type DesignLoss = (typeof DESIGN_LOSSES)[number]

/**
 * What losing a share of the option's generation costs, from the same hours as the energy itself (C5): a clipped or
 * export-limited hour may lose nothing, and midday is exported first. Tabulated; linear between the shares.
 */
export interface PartialLoss {
  /** Shares of the generation that is down, ascending, first 0, last 1. */
  readonly shares: Float64Array
  /** Lost energy as a share of the month's deliverable energy: 12 calendar months (January first) × shares, row-major. */
  readonly lostShare: Float64Array
  /**
   * Self-used part of that lost energy as a share of the month's deliverable energy; same layout. null: no load is
   * known, and the self-used part is that of rule C5, σ(f)·f, at most what is lost; σ(f) = s(0.7s + (1 − 0.7s)f²).
   */
  readonly lostSelfUsedShare: Float64Array | null
}

/** The energy of one option over the horizon, month by month (T1–T3). */
export interface OptionEnergy {
  /** Energy the roof could give, the same for every option: kWh, horizonYears × 12. */
  readonly idealKwh: Float64Array
  /** Energy lost to the design while everything works: kWh, horizonYears × 12 each. */
  readonly designLossKwh: Readonly<Record<DesignLoss, Float64Array>>
  /** ideal − design losses: kWh, horizonYears × 12. */
  readonly deliverableKwh: Float64Array
  /** null: outages are valued by the rule of C5 from `self_consumed`; else by the tables of a known load. */
  readonly partialLoss: PartialLoss | null
  /**
   * With a known load: self-used part of each design loss, kWh, same layout; null: rule C5. That of `conversion` also
   * has what an inverter on one phase of three sells instead of supplying the other two, where the meter does not net;
   * it may then be more than the loss itself, and what is left to value at the export price is below 0.
   */
  readonly designLossSelfUsedKwh: Readonly<Record<DesignLoss, Float64Array>> | null
  /**
   * Part of each design loss that the export limit would have cut anyway and that is worth nothing, kWh, same layout;
   * what is valued at the export price is loss − self-used − this. null: all of `exportLimit`, nothing of the others.
   */
  readonly designLossUnpaidKwh: Readonly<Record<DesignLoss, Float64Array>> | null
  /** Share of the option's generation behind each of its populations where the wiring decides it (O4 with arrays); null: rule O4. */
  readonly populationShares: readonly (number | null)[] | null
  /** What a battery moves in the first year; null: none whose worth is computed (O7). */
  readonly batteryYear: BatteryYear | null
}
