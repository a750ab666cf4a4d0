/**
 * The content of results.json. Keys are stable: added to, never renamed. Every simulated figure
 * has its standard error with it. Present values are in prices of the start date, discounted to it. Arrays by year
 * hold horizonYears values, index = year k (from k to k + 1 years after the start).
 */
import type { RoofFindings } from '../energy/roof-findings.ts'
import type { Assumption, Note } from '../scenario/model/assumption.ts'
import type { Comparison } from './results/comparison.ts'
import type { OptionResult } from './results/option.ts'
import type { Swing, SwitchPoint, WarrantySweep } from './results/what-if.ts'

/** Everything a run finds. */
export interface Results {
  readonly tool: { readonly name: string; readonly version: string }
  readonly scenario: {
    readonly title: string
    readonly currency: string
    readonly horizonYears: number
    readonly discountRate: number
  }
  readonly seed: number
  readonly draws: number
  /** Largest standard error of a mean lifetime cost or a difference of two, as a share of the lowest of those
   * means, before battery earnings (X3); null where that is not above 0. */
  readonly errorShare: number | null
  readonly blocks: number
  readonly parameterSets: number
  readonly inputs: readonly Assumption[]
  readonly options: readonly OptionResult[]
  /** The roof and what each option generates on it in year 0; null unless the energy is stated as arrays (E). */
  readonly roof: RoofFindings | null
  readonly comparisons: readonly Comparison[]
  readonly warrantySweep: readonly WarrantySweep[]
  readonly switchPoints: readonly SwitchPoint[]
  readonly swings: readonly Swing[]
  /** Shares of one whole (S3), each with its standard error. */
  readonly drivers: readonly { readonly input: string; readonly share: number; readonly standardError: number }[]
  /** Parameter sets that `drivers` and shares of judgement come from, the first of the run (X2). */
  readonly driverSets: number
  readonly notes: readonly Note[]
}
