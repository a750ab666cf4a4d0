import type { Population } from '../../scenario/model/population.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { ParameterSets } from '../../simulation/parameter-sets.ts'
import { layoutOf } from '../../simulation/play-draws.ts'
import { type BlockRunner, blockTasks, type Prepared, planOf, withScenario } from '../../simulation/run.ts'
import { BlockMerger } from '../../simulation/sums/merge.ts'
import { kindOf } from '../../topologies/kinds.ts'
import type { PlainOptionResult } from '../option/option-result.ts'
import { OptionRun } from '../option/option-run.ts'
import type { PopulationResult } from '../results/option.ts'
import { checkedSets, populationResults } from './checked-counts.ts'

/** Most draws in which later lives are checked. Ours: their failures are then known to about 1 %. */
const LATER_DRAWS = 4000

/**
 * The scenario in which nothing but their lives decides when units fail: each failure is found and visited by itself,
 * and ends in a replacement (X1). Lives, delays and streams are those of the scenario. Gateways are left out; one that
 * is listed before other components stays, so that none of them changes its place and with it its streams.
 *
 * @param scenario - as written
 */
export function eachAtOnce(scenario: Scenario): Scenario {
  return {
    ...scenario,
    options: scenario.options.map(option => ({
      ...option,
      visitPolicy: null,
      monitoring: 'built-in',
      populations: withoutLastGateways(option.populations).map(population => ({ ...population, repairRule: null })),
    })),
  }
}

function withoutLastGateways(populations: readonly Population[]): readonly Population[] {
  return populations.slice(0, 1 + populations.findLastIndex(({ kind }) => !kindOf(kind).monitors))
}

/**
 * The populations of an option, with a check of the lives after the first where rules between units, or repairs,
 * exclude an exact value: the same units without those rules (X1).
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param populations - their results as played
 * @param sets - parameter sets of the run
 * @param draws - of the run; at most 4,000 are used
 * @param variant - index of the `eachAtOnce` scenario among the runner's variants
 * @param run - plays blocks
 */
export async function withLaterLives(
  prepared: Prepared,
  option: number,
  populations: PlainOptionResult['populations'],
  sets: ParameterSets,
  draws: number,
  variant: number,
  run: BlockRunner,
): Promise<readonly PopulationResult[]> {
  if (populations.every(({ checked }) => checked === 'failures')) return populations
  const most = Math.min(draws, LATER_DRAWS)
  const merger = new BlockMerger(most, !sets.vary)
  await run(blockTasks(option, most, false, variant), block => merger.add(block))
  const plan = planOf(withScenario(prepared, eachAtOnce(prepared.scenario)), option)
  const alone = new OptionRun(merger.whole(), layoutOf(plan, false), !sets.vary)
  const found = populationResults(
    plan,
    alone,
    checkedSets(sets, Math.max(1, Math.floor(most / sets.drawsPerSet(most)))),
  )
  return populations.map((population, place) => {
    const failures = found[place]?.result.failures
    return population.checked === 'failures' || failures === undefined || failures.exactMean === null
      ? population
      : { ...population, laterLives: { ...failures, draws: most } }
  })
}
