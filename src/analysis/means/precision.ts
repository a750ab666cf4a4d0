import { momentsOf } from '../../numerics/samples/moments.ts'
import type { OptionPlan } from '../../simulation/option-plan.ts'
import { DRAWS_PER_SET } from '../../simulation/parameter-sets.ts'
import { type OptionDraws, SUM_PLACE, type SumLayout } from '../../simulation/sums/sum-layout.ts'
import { type Costs, differenceOf, pairedMean } from '../comparison/comparison.ts'
import { MeanControls } from './mean-controls.ts'
import type { SharpMeans } from './sharp-means.ts'

/** How many draws to play: as many as bring every error under a share of the scale (X2, X3). */
export interface Until {
  /** Share of the lowest mean lifetime cost before battery earnings, > 0. */
  readonly precision: number
  /** Draws before the first check, a multiple of 1,000. */
  readonly least: number
  /** Ceiling, a multiple of 1,000. */
  readonly most: number
  /** Draws between two checks, a multiple of 1,000. */
  readonly every: number
}

/** The cost of one option as its blocks are added, with the controls of its mean. */
export class CostWatch {
  readonly #controls: MeanControls
  readonly #oneSet: boolean
  #costs = new Float64Array(0)
  #draws = 0
  #earned = 0

  /**
   * @param plan - the option
   * @param layout - of its sums, with controls
   * @param oneSet - nothing is unknown
   */
  constructor(plan: OptionPlan, layout: SumLayout, oneSet: boolean) {
    this.#controls = new MeanControls(plan, layout)
    this.#oneSet = oneSet
  }

  /**
   * Adds the next block.
   *
   * @param block - in order of the draws
   * @param layout - of its sums
   */
  add(block: OptionDraws, layout: SumLayout): void {
    const draws = this.#draws + block.draws
    if (draws > this.#costs.length) {
      const larger = new Float64Array(Math.max(2 * this.#costs.length, draws))
      larger.set(this.#costs)
      this.#costs = larger
    }
    this.#costs.set(block.lifetimeCost, this.#draws)
    this.#draws = draws
    const { setSums } = block
    for (let i = SUM_PLACE.batteryEarnings; i < setSums.length; i += layout.length) {
      this.#earned += setSums[i] ?? 0
    }
    this.#controls.add(block, layout)
  }

  /** Weights that sharpen the means of the draws so far; null: means are plain. */
  fit(): SharpMeans | null {
    return this.#controls.fit()
  }

  /** The costs of the draws so far, and what the battery earned on average. */
  get soFar(): Costs & { readonly earnings: number } {
    const lifetimeCost = this.#costs.subarray(0, this.#draws)
    const sharp = this.fit()?.figure(sumsBySet(lifetimeCost), this.#oneSet) ?? null
    return { lifetimeCost, sharp, earnings: this.#earned / this.#draws }
  }
}

/**
 * The largest standard error of a mean lifetime cost or a difference of two, as a share of the scale (X2, X3): the
 * lowest mean lifetime cost before battery earnings, since a cost less an income is no scale and may be below 0.
 *
 * @param options - of all options, with what batteries earned on average
 * @param drawsPerSet - draws that share a parameter set
 * @returns >= 0; null where the scale is not above 0
 */
export function errorShare(
  options: readonly (Costs & { readonly earnings: number })[],
  drawsPerSet: number,
): number | null {
  const single = options.map(({ sharp, lifetimeCost }) => sharp ?? pairedMean(lifetimeCost, drawsPerSet))
  const scale = Math.min(...single.map(({ mean }, option) => mean + (options[option]?.earnings ?? 0)))
  let largest = 0
  options.forEach((one, i) => {
    largest = Math.max(largest, single[i]?.standardError ?? 0)
    for (const other of options.slice(i + 1)) {
      largest = Math.max(largest, differenceOf(one, other, drawsPerSet).standardError)
    }
  })
  return scale > 0 ? largest / scale : null
}

function sumsBySet(costs: Float64Array): Float64Array {
  return Float64Array.from(
    { length: costs.length / DRAWS_PER_SET },
    (_, set) => DRAWS_PER_SET * momentsOf(costs, set * DRAWS_PER_SET, (set + 1) * DRAWS_PER_SET).mean,
  )
}
