/** When units fail (M1, M4): by evidence, as the user states it, or from fitted records. */

import type { Quantity } from '../quantity.ts'

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

/** The three evidence modes of one row, in the quantities of the row. */
export interface EvidenceRow {
  readonly earlyShare: number
  readonly chanceRatePerYear: number
  /** Share failed by the anchor age, averaged over models. */
  readonly anchorShare: number | null
}

/** The plain row that a tier is compared with: each figure moved by the same unknown as the tier's own (U1b, U1c). */
export interface PlainRow {
  readonly earlyShare: Quantity
  readonly chanceRatePerYear: Quantity
  /** Only with spread 0, as the tier's own. */
  readonly wearLifeYears: Quantity | null
  /** Share failed by the anchor age, averaged over models. */
  readonly anchorShare: number
}

/** Failure taken from evidence: early, chance and wear-out mode, wear-out life solved at the anchor (U1b, U1c). */
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

/** Failure from fitted field records: equally likely parameter draws, picked by one unknown (U1). */
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
