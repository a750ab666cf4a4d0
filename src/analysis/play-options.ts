/** The draws of all options of a run, as written and under the variants that findings compare them with. */

import { BlockMerger } from '../simulation/merge.ts'
import type { OptionDraws } from '../simulation/option-figures.ts'
import type { ParameterSets } from '../simulation/parameter-sets.ts'
import { layoutOf } from '../simulation/play-draws.ts'
import { blockTasks, type Prepared, planOf } from '../simulation/run.ts'
import { checkedSets } from './checked-counts.ts'
import type { Compared } from './comparison.ts'
import { withLaterLives } from './later-lives.ts'
import { optionResult, type PlainOptionResult } from './option-result.ts'
import { OptionRun } from './option-run.ts'
import type { Runner } from './runner.ts'
import { jobOf } from './same-job.ts'
import { movesSpare } from './spare-alike.ts'
import { hasTierGap } from './unknowns-read.ts'
import { WIDE_DRAWS, wideScenario } from './unmeasured.ts'
import { VARIANT } from './variants.ts'
import { type PlainSweep, warrantyResults } from './warranty-results.ts'

/** What the draws of the run came to, one entry an option. */
export interface Played {
  readonly options: readonly PlainOptionResult[]
  readonly compared: readonly Compared[]
  readonly sweeps: readonly PlainSweep[]
  /** Lifetime costs with tier effect 0; null where no tier gap was played. */
  readonly nullCosts: readonly (Float64Array | null)[]
  /** The same with spares at one price (K5); null where neither changes anything. */
  readonly alikeCosts: readonly (Float64Array | null)[]
  /** Lifetime costs of the wide run, from its fewer draws (K4); empty without one. */
  readonly wideCosts: readonly Float64Array[]
}

/**
 * Plays all options, one after another, so that no more than one is held whole.
 *
 * @param prepared - the run
 * @param sets - its parameter sets
 * @param draws - number, a multiple of drawsPerSet
 * @param drawsPerSet - that share a parameter set
 * @param runner - made with the variants of the scenario, in their order
 * @param finished - called with the number of draws of each block of the scenario as written
 */
export async function playAll(
  prepared: Prepared,
  sets: ParameterSets,
  draws: number,
  drawsPerSet: number,
  runner: Runner,
  finished: (draws: number) => void,
): Promise<Played> {
  const { scenario } = prepared
  const checked = checkedSets(sets, Math.max(1, Math.floor(draws / drawsPerSet)))
  const options: PlainOptionResult[] = []
  const compared: Compared[] = []
  const sweeps: PlainSweep[] = []
  const nullCosts: (Float64Array | null)[] = []
  const alikeCosts: (Float64Array | null)[] = []
  const wideCosts: Float64Array[] = []
  const wide = wideScenario(scenario) !== null
  const anyGap = scenario.tierEffect !== null && scenario.options.some(hasTierGap)
  const play = async (
    option: number,
    sweep: boolean,
    variant: number,
    taken: (block: OptionDraws) => void,
    most = draws,
  ): Promise<OptionDraws> => {
    const merger = new BlockMerger(most, !sets.vary)
    await runner.run(blockTasks(option, most, sweep, variant), block => {
      merger.add(block)
      taken(block)
    })
    return merger.whole()
  }
  for (let option = 0; option < scenario.options.length; option++) {
    const plan = planOf(prepared, option)
    const merged = await play(option, true, VARIANT.asWritten, block => finished(block.draws))
    const optionRun = new OptionRun(merged, layoutOf(plan, true), !sets.vary)
    const result = optionResult(plan, optionRun, drawsPerSet, checked)
    const { populations } = result
    options.push({
      ...result,
      populations: await withLaterLives(prepared, option, populations, sets, draws, VARIANT.eachAtOnce, runner.run),
    })
    sweeps.push(warrantyResults(plan, optionRun))
    compared.push({
      id: plan.option.id,
      upfrontCost: plan.option.upfrontCost,
      lifetimeCost: merged.lifetimeCost,
      presentByYear: merged.byYear.present.map(sum => sum / draws),
      acquisition: result.totals.acquisition,
      job: jobOf(plan.option),
      battery: {
        earnings: 0 - result.costs.batteryEarnings,
        outage: result.costs.batteryOutage,
        days: optionRun.mean(optionRun.layout.of('batteryDays')),
      },
    })
    const gap = scenario.tierEffect !== null && hasTierGap(plan.option)
    const nullCase = gap ? (await play(option, false, VARIANT.nullCase, () => {})).lifetimeCost : null
    nullCosts.push(nullCase)
    const moved = anyGap && movesSpare(scenario, option)
    alikeCosts.push(moved ? (await play(option, false, VARIANT.spareAlike, () => {})).lifetimeCost : nullCase)
    if (wide) {
      wideCosts.push((await play(option, false, VARIANT.wide, () => {}, Math.min(draws, WIDE_DRAWS))).lifetimeCost)
    }
  }
  return { options, compared, sweeps, nullCosts, alikeCosts, wideCosts }
}
