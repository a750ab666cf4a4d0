/** The draws of all options of a run, as written and under the variants that findings compare them with. */

import type { ParameterSets } from '../simulation/parameter-sets.ts'
import { type Prepared, planOf, withScenario } from '../simulation/run.ts'
import type { Compared, Costs } from './comparison/comparison.ts'
import { jobOf } from './comparison/same-job.ts'
import { movesSpare } from './comparison/spare-alike.ts'
import { WIDE_DRAWS, wideScenario } from './comparison/unmeasured.ts'
import { type Drawn, drawAll } from './means/draw-option.ts'
import { optionResult, type PlainOptionResult } from './option/option-result.ts'
import { OptionRun } from './option/option-run.ts'
import type { Runner } from './runner.ts'
import { checkedSets } from './self-check/checked-counts.ts'
import { withLaterLives } from './self-check/later-lives.ts'
import { hasTierGap } from './sensitivity/unknowns-read.ts'
import { VARIANT, variantsOf } from './variants.ts'
import { type PlainSweep, warrantyResults } from './warranty/warranty-results.ts'

/** Results of the draws of the run, one entry an option. */
export interface Played {
  readonly options: readonly PlainOptionResult[]
  readonly compared: readonly Compared[]
  readonly sweeps: readonly PlainSweep[]
  /** Lifetime costs with tier effect 0; null where no tier gap was played. */
  readonly nullCosts: readonly (Costs | null)[]
  /** The same with spares at one price (K5); null where neither changes anything. */
  readonly alikeCosts: readonly (Costs | null)[]
  /** Lifetime costs of the wide run, from its fewer draws (K4); empty without one. */
  readonly wideCosts: readonly Float64Array[]
}

/**
 * Plays all options, one after another, so that no more than one is held whole.
 *
 * @param prepared - the run
 * @param sets - its parameter sets
 * @param draws - number, a multiple of 20
 * @param sharpened - whether means may be sharpened (X3)
 * @param runner - made with the variants of the scenario, in their order
 * @param first - draws already played to find their number, one entry an option; empty: none
 * @param finished - called with the number of draws of each block of the scenario as written
 */
export async function playAll(
  prepared: Prepared,
  sets: ParameterSets,
  draws: number,
  sharpened: boolean,
  runner: Runner,
  first: readonly Drawn[],
  finished: (draws: number) => void,
): Promise<Played> {
  const { scenario } = prepared
  const drawsPerSet = sets.drawsPerSet(draws)
  const checked = checkedSets(sets, Math.max(1, Math.floor(draws / drawsPerSet)))
  const options: PlainOptionResult[] = []
  const compared: Compared[] = []
  const sweeps: PlainSweep[] = []
  const nullCosts: (Costs | null)[] = []
  const alikeCosts: (Costs | null)[] = []
  const wideCosts: Float64Array[] = []
  const wide = wideScenario(scenario) !== null
  const anyGap = scenario.tierEffect !== null && scenario.options.some(hasTierGap)
  const variants = variantsOf(scenario).map(variant => withScenario(prepared, variant))
  const costsIn = async (option: number, variant: number, most: number, sharp: boolean): Promise<Costs> => {
    const plan = planOf(variants[variant] ?? prepared, option)
    const asked = { option, variant, sweep: false, draws: most, sharpened: sharp }
    const drawn = await drawAll(plan, asked, sets, runner.run, () => {})
    return costsOf(new OptionRun(drawn.merged, drawn.layout, !sets.vary, drawn.sharp))
  }
  for (let option = 0; option < scenario.options.length; option++) {
    const plan = planOf(prepared, option)
    const asked = { option, variant: VARIANT.asWritten, sweep: true, draws, sharpened }
    const drawn = first[option] ?? (await drawAll(plan, asked, sets, runner.run, block => finished(block.draws)))
    const optionRun = new OptionRun(drawn.merged, drawn.layout, !sets.vary, drawn.sharp)
    const result = optionResult(plan, optionRun, drawsPerSet, checked)
    const { populations } = result
    options.push({
      ...result,
      populations: await withLaterLives(prepared, option, populations, sets, draws, VARIANT.eachAtOnce, runner.run),
    })
    sweeps.push(warrantyResults(plan, optionRun))
    compared.push({
      ...costsOf(optionRun),
      id: plan.option.id,
      upfrontCost: plan.option.upfrontCost,
      presentByYear: Float64Array.from(optionRun.meanByYear('present')),
      acquisition: result.totals.acquisition,
      job: jobOf(plan.option),
      battery: {
        earnings: 0 - result.costs.batteryEarnings,
        outage: result.costs.batteryOutage,
        days: optionRun.mean(optionRun.layout.of('batteryDays')),
      },
    })
    const gap = scenario.tierEffect !== null && hasTierGap(plan.option)
    const nullCase = gap ? await costsIn(option, VARIANT.nullCase, draws, sharpened) : null
    nullCosts.push(nullCase)
    const moved = anyGap && movesSpare(scenario, option)
    alikeCosts.push(moved ? await costsIn(option, VARIANT.spareAlike, draws, sharpened) : nullCase)
    // K4 compares verdicts, which use plain means
    if (wide) wideCosts.push((await costsIn(option, VARIANT.wide, Math.min(draws, WIDE_DRAWS), false)).lifetimeCost)
  }
  return { options, compared, sweeps, nullCosts, alikeCosts, wideCosts }
}

function costsOf(run: OptionRun): Costs {
  return { lifetimeCost: run.draws.lifetimeCost, sharp: run.sharpFigure(run.layout.of('lifetimeCost')) }
}
