import { Account } from '../ledger/account.ts'
import { designEnergyByYear } from '../ledger/design-energy.ts'
import { priceDraw } from '../ledger/price-draw.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { OptionPlayer } from './play-option.ts'

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
      return set === undefined ? [] : [{ i, set, costs: new FixedCosts(plan, set) }]
    })
    const player = new OptionPlayer(plan)
    const account = new Account(plan.scenario.horizonYears)
    const [first] = priced
    for (let draw = 0; draw < draws && first !== undefined; draw++) {
      player.play(draw, first.set)
      for (const { i, set, costs } of priced) {
        priceDraw(player.history, set.terms, plan.supply, player.chance, account)
        const residual = costs.residual === null ? 0 : costs.residual.of(player.history)
        const cost = costs.fixed + account.repairs + account.outageEnergy + account.batteryOutage - residual
        means[i] = (means[i] ?? 0) + cost / draws
      }
    }
  }
  return means
}

class FixedCosts {
  readonly fixed: number
  readonly residual: ResidualValue | null

  constructor(plan: OptionPlan, { terms }: OptionSet) {
    const design = designEnergyByYear(plan.supply, terms.energy, terms.logDiscount, terms.horizonYears)
    let fixed = terms.upfrontCost + terms.warrantyPrice
    design.forEach((value, year) => {
      fixed += value + terms.yearlyCost * Math.exp(-terms.logDiscount * (year + 0.5))
    })
    this.fixed = fixed
    this.residual = plan.scenario.residualValue === 'straight-line' ? new ResidualValue(terms) : null
  }
}
