/** Draws of one option, with controls that sharpen their means; and as many draws as a given error needs. */

import type { OptionPlan } from '../../simulation/option-plan.ts'
import { DRAWS_PER_BLOCK, DRAWS_PER_SET, type ParameterSets } from '../../simulation/parameter-sets.ts'
import { layoutOf } from '../../simulation/play-draws.ts'
import { type BlockRunner, blockTasks, type Prepared, planOf } from '../../simulation/run.ts'
import { BlockMerger } from '../../simulation/sums/merge.ts'
import type { OptionDraws, SumLayout } from '../../simulation/sums/sum-layout.ts'
import { VARIANT } from '../variants.ts'
import { MeanControls } from './mean-controls.ts'
import { CostWatch, errorShare, type Until } from './precision.ts'
import type { SharpMeans } from './sharp-means.ts'

/** Most draws whose means are sharpened where their number is given. Ours: beyond, the errors are small. */
const SHARPENED_DRAWS = 20_000
/** Most draws that are kept whole while their number is not yet known. Ours: some 100 MB for five options of a home. */
const KEPT_DRAWS = 100_000

/** Results of the draws of an option. */
export interface Drawn {
  readonly merged: OptionDraws
  readonly layout: SumLayout
  /** null: means are plain. */
  readonly sharp: SharpMeans | null
}

/** Which draws to play. */
export interface DrawsAsked {
  readonly option: number
  readonly variant: number
  readonly sweep: boolean
  /** A multiple of 20. */
  readonly draws: number
  /** Whether means may be sharpened. */
  readonly sharpened: boolean
}

/**
 * Whether means are sharpened where their number is given (X3).
 *
 * @param draws - how many
 */
export function isSharpened(draws: number): boolean {
  return draws <= SHARPENED_DRAWS
}

/**
 * Plays a number of draws of one option.
 *
 * @param plan - the option, in the variant
 * @param asked - which draws
 * @param sets - parameter sets of the run
 * @param run - plays blocks
 * @param taken - called with each block
 */
export async function drawAll(
  plan: OptionPlan,
  asked: DrawsAsked,
  sets: ParameterSets,
  run: BlockRunner,
  taken: (block: OptionDraws) => void,
): Promise<Drawn> {
  const { option, variant, sweep, draws, sharpened } = asked
  const layout = layoutOf(plan, sweep, sharpened)
  const merger = new BlockMerger(draws, !sets.vary && !sharpened)
  const controls = sharpened ? new MeanControls(plan, layout) : null
  await run(blockTasks(option, draws, sweep, variant, sharpened), block => {
    merger.add(block)
    controls?.add(block, layout)
    taken(block)
  })
  return { merged: merger.whole(), layout, sharp: controls?.fit() ?? null }
}

/** Draws of all options, as many as were needed. */
export interface DrawnUntil {
  readonly draws: number
  /** One entry an option; empty where they were too many to be kept. */
  readonly options: readonly Drawn[]
}

/**
 * Plays all options until every error is small enough (X2, X3).
 *
 * @param prepared - the run
 * @param sets - its parameter sets
 * @param until - when to stop
 * @param run - plays blocks
 * @param finished - called with the number of draws of each block
 */
export async function drawUntil(
  prepared: Prepared,
  sets: ParameterSets,
  until: Until,
  run: BlockRunner,
  finished: (draws: number) => void,
): Promise<DrawnUntil> {
  const most = Math.ceil(until.most / DRAWS_PER_SET) * DRAWS_PER_SET
  const plans = prepared.scenario.options.map((_, option) => planOf(prepared, option))
  const watches = plans.map(plan => new CostWatch(plan, layoutOf(plan, true, true), !sets.vary))
  let mergers: readonly BlockMerger[] = plans.map(() => new BlockMerger(null, false))
  for (let draws = 0, next = Math.min(until.least, most); ; next = Math.min(draws + until.every, most)) {
    const sweep = next <= KEPT_DRAWS
    if (!sweep) mergers = []
    for (const [option, plan] of plans.entries()) {
      const layout = layoutOf(plan, sweep, true)
      const tasks = blockTasks(option, next, sweep, VARIANT.asWritten, true).slice(draws / DRAWS_PER_BLOCK)
      await run(tasks, block => {
        mergers[option]?.add(block)
        watches[option]?.add(block, layout)
        finished(block.draws)
      })
    }
    draws = next
    const soFar = watches.map(watch => watch.soFar)
    const reached = errorShare(soFar, sets.drawsPerSet(draws))
    if (draws === most || (reached !== null && reached < until.precision)) {
      const options = plans.flatMap((plan, option): Drawn[] => {
        const [merger, watch] = [mergers[option], watches[option]]
        if (merger === undefined || watch === undefined) return []
        return [{ merged: merger.whole(), layout: layoutOf(plan, true, true), sharp: watch.fit() }]
      })
      return { draws, options }
    }
  }
}
