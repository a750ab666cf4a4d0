import type { ComponentKind } from '../../topologies/kinds.ts'

/** What a run finds about other terms and other values of its inputs (V, S). */

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
  /** Cover of the components after the first as it is, each against none (V2); those without parts cover are left out. */
  readonly otherComponents: readonly {
    readonly component: ComponentKind
    /** Parts term, years, > 0. */
    readonly years: number
    readonly worth: number
    readonly standardError: number
    /** Draws played for it (X2): the first of the run. */
    readonly draws: number
  }[]
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
  /**
   * Of a characteristic life: the age in years by which half of new units have failed, by all modes and averaged over
   * models (M4), at each of the four figures; Infinity is null. null: of another input.
   */
  readonly halfFailBy: {
    readonly present: number | null
    readonly value: number | null
    readonly low: number | null
    readonly high: number | null
  } | null
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
