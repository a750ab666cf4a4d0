import type { Population } from '../../scenario/model/population.ts'
import type { Option, Scenario } from '../../scenario/model.ts'
import { firstCosts } from '../../simulation/lifetime-costs.ts'
import { type Prepared, withScenario } from '../../simulation/run.ts'
import { kindOf } from '../../topologies/kinds.ts'
import { withOption, withVisitPolicy } from '../changed-scenario.ts'
import { fewDraws } from '../few-draws.ts'
import { waitingPopulation } from '../policies/waiting-policy.ts'
import type { OptionResult } from '../results/option.ts'
import type { Estimate } from '../results/spread.ts'
import { pairedMean } from './comparison.ts'

/** A visit as soon as one unit is down, which repairs all that are down: the rule that options are compared by. */
const AT_ONCE = { waitForUnits: 1, waitAtMostDays: 365 }

/** In what a comparison treats its options differently. */
export interface TreatedDifferently {
  readonly visits: boolean
  readonly monitoring: boolean
}

/**
 * Whether options differ in when failed units are visited (O3a), and in how a failure is noticed (O2).
 *
 * @param options - all of the scenario
 */
export function treatedDifferently(options: readonly Option[]): TreatedDifferently {
  const waiting = options.filter(option => waitingPopulation(option) !== undefined)
  return {
    visits: new Set(waiting.map(({ visitPolicy }) => JSON.stringify(visitPolicy))).size > 1,
    monitoring: new Set(options.map(({ monitoring }) => monitoring)).size > 1,
  }
}

/**
 * What an option would cost if all options were treated alike (O3a): with a visit at once for each failed unit, and
 * with monitoring that never fails and costs nothing. All else is the same, the random streams too (K1).
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param draws - draws of the run; at most 400 are used
 * @param drawsPerSet - draws that share a parameter set
 * @returns mean cost as written less the mean cost so treated; null where options do not differ in either
 */
export function countedAlike(
  prepared: Prepared,
  option: number,
  draws: number,
  drawsPerSet: number,
): OptionResult['countedAlike'] {
  const { scenario } = prepared
  const stated = scenario.options[option]
  const { visits, monitoring } = treatedDifferently(scenario.options)
  if (stated === undefined || !(visits || monitoring)) return null
  const used = Math.min(draws, fewDraws(stated))
  let present: Float64Array | null = null
  const over = (alike: Scenario): Estimate => {
    present ??= firstCosts(prepared, option, used)
    const costs = firstCosts(withScenario(prepared, alike), option, used)
    return pairedMean(
      present.map((cost, draw) => cost - (costs[draw] ?? 0)),
      Math.min(drawsPerSet, used),
    )
  }
  const overPerfect = (): Estimate =>
    stated.monitoring === 'built-in' ? { mean: 0, standardError: 0 } : over(withPerfectMonitoring(scenario, option))
  const waits = visits && waitingPopulation(stated) !== undefined
  return {
    visitAtOnce: waits ? over(withVisitPolicy(scenario, option, AT_ONCE)) : null,
    perfectMonitoring: monitoring ? overPerfect() : null,
    draws: used,
  }
}

/** Gateways that never fail and cost nothing; without gateways, monitoring that always works (O2). */
function withPerfectMonitoring(scenario: Scenario, place: number): Scenario {
  return withOption(scenario, place, option => ({
    ...option,
    monitoring: option.monitoring === null ? null : 'built-in',
    populations: option.populations.map(unit => (kindOf(unit.kind).monitors ? neverFailing(unit) : unit)),
  }))
}

function neverFailing(gateway: Population): Population {
  const life = { form: 'life', shape: 1, lifeYears: 1e12 } as const
  const modes = [{ cause: 'none', susceptible: 1, life }]
  return {
    ...gateway,
    failure: { source: { form: 'stated', modes }, modelSpread: 0, badBatch: null, noneFailedSoFar: false },
    prices: { ...gateway.prices, parts: 0 },
    replaceAtAgeYears: null,
  }
}
