/** What is not known, and drawn once a parameter set (U1). */

import type { Known } from './assumption.ts'

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
