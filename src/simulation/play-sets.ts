import { Account } from '../ledger/account.ts'
import { priceDraw } from '../ledger/price-draw.ts'
import type { OptionPlan } from './option-plan.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { OptionPlayer } from './play-option.ts'
import { SetCosts } from './set-costs.ts'

/**
 * Mean lifetime cost of an option over the first draws in each of some parameter sets (S1). Sets that differ in prices
 * only share their histories: they are played once and priced as often as there are sets.
 *
 * @param plan - the option
 * @param draws - how many
 * @param parameterSets - each for all draws
 * @returns one mean a set
 */
export function meanCosts(plan: OptionPlan, draws: number, parameterSets: readonly ParameterSet[]): number[] {
  const sets = parameterSets.map(set => plan.at(set))
  const straightLine = plan.scenario.residualValue === 'straight-line'
  const groups = new Map<string, number[]>()
  sets.forEach((set, i) => {
    const { truth, models, partsExitRate, labourExitRate } = set
    const key = JSON.stringify([truth, models, partsExitRate, labourExitRate])
    groups.set(key, [...(groups.get(key) ?? []), i])
  })
  const means = new Array<number>(sets.length).fill(0)
  for (const members of groups.values()) {
    const priced = members.flatMap(i => {
      const set = sets[i]
      return set === undefined ? [] : [{ i, set, costs: new SetCosts(plan, set) }]
    })
    const player = new OptionPlayer(plan)
    const account = new Account(plan.scenario.horizonYears)
    const [first] = priced
    for (let draw = 0; draw < draws && first !== undefined; draw++) {
      player.play(draw, first.set)
      for (const { i, set, costs } of priced) {
        priceDraw(player.history, set.terms, plan.supply, player.chance, account)
        const residual = straightLine ? costs.residual.of(player.history) : 0
        const cost = costs.fixed + account.repairs + account.outageEnergy + account.batteryOutage - residual
        means[i] = (means[i] ?? 0) + cost / draws
      }
    }
  }
  return means
}
