import { optionParameters } from '../../history/parameters.ts'
import { type LostEnergy, loseShare } from '../../ledger/outages/energy-value.ts'
import type { Population } from '../../scenario/model/population.ts'
import type { Option } from '../../scenario/model.ts'
import { middleSet } from '../../simulation/parameter-sets.ts'
import { type Prepared, planOf } from '../../simulation/run.ts'
import { kindOf } from '../../topologies/kinds.ts'
import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../../units.ts'
import { pairedMean } from '../comparison/comparison.ts'
import type { OptionResult } from '../results/option.ts'
import { policyCosts } from './policy-costs.ts'

/** Policies tried: how many failed units to wait for, and how long at most. Ours. */
const WAIT_FOR = [1, 2, 3, 4, 6]
const WAIT_DAYS = [90, 365]

/**
 * Repair now or wait (O3): the cost of an option against the number of failed units a visit waits for and the longest
 * wait, with straight-line residual value on (C6).
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param draws - draws of the run; as many are used as `policyCosts` takes
 * @param drawsPerSet - draws that share a parameter set
 * @returns null where no population has more than one unit to visit
 */
export function waitingPolicy(
  prepared: Prepared,
  option: number,
  draws: number,
  drawsPerSet: number,
): OptionResult['waitingPolicy'] {
  const { scenario } = prepared
  const stated = scenario.options[option]
  const waiting = stated === undefined ? undefined : waitingPopulation(stated)
  if (stated === undefined || waiting === undefined) return null
  const policies = policyCosts(prepared, option, draws)
  const used = policies.draws
  const perSet = Math.min(drawsPerSet, used)
  const present = policies.under(parameters => parameters)
  const waitForUnits = WAIT_FOR.filter(units => units <= waiting.count)
  let best = { waitForUnits: 1, waitAtMostDays: WAIT_DAYS[0] ?? 90 }
  let bestCosts = present
  let least = Infinity
  const cost = waitForUnits.map(units =>
    WAIT_DAYS.map((days, i) => {
      // a visit for the first unit waits for nothing, so the longest wait does not matter
      if (units === 1 && i > 0) return least
      const policy = { waitForUnits: units, waitAtMostDays: days }
      const visitPolicy = { waitForUnits: units, waitAtMostYears: days / DAYS_PER_YEAR }
      const costs = policies.under(parameters => optionParameters({ ...parameters, visitPolicy }))
      const { mean } = pairedMean(costs, perSet)
      if (mean < least) {
        least = mean
        best = policy
        bestCosts = costs
      }
      return mean
    }),
  )
  const saving = pairedMean(
    present.map((value, draw) => value - (bestCosts[draw] ?? 0)),
    perSet,
  )
  return {
    waitForUnits,
    waitAtMostDays: WAIT_DAYS,
    cost,
    best,
    against: stated.visitPolicy,
    draws: used,
    saves: saving.mean,
    standardError: saving.standardError,
    oneUnitYear: oneUnitYear(prepared, option, waiting.place),
  }
}

/**
 * The first population of an option that a visit may wait for (O3).
 *
 * @param option - the option
 * @returns undefined where none has more than one unit to visit
 */
export function waitingPopulation({ populations }: Pick<Option, 'populations'>): Population | undefined {
  return populations.find(
    ({ count, needsVisit, kind }) => count > 1 && needsVisit && kindOf(kind).role === 'panel-level',
  )
}

/** Energy that one failed unit costs in the first year, undiscounted, everything at its middle (C5). */
function oneUnitYear(prepared: Prepared, option: number, place: number): { kwh: number; value: number } {
  const plan = planOf(prepared, option)
  const { terms } = plan.at(middleSet(prepared.scenario.unknowns.length))
  const share = terms.units[place]?.unitShare ?? 0
  const { monthStart } = plan.supply
  const lost: LostEnergy = { kwh: 0, value: 0 }
  let kwh = 0
  let value = 0
  for (let month = 0; month < MONTHS_PER_YEAR; month++) {
    loseShare(plan.supply, terms.energy, month, monthStart[month] ?? 0, monthStart[month + 1] ?? 1, share, lost)
    kwh += lost.kwh
    value += lost.value
  }
  return { kwh, value }
}
