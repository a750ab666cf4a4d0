import type { History } from '../history/history.ts'
import { Account } from '../ledger/account.ts'
import { Claims, decideClaims } from '../ledger/claims.ts'
import { loseOutages } from '../ledger/outage-energy.ts'
import { payRepairs } from '../ledger/repairs.ts'
import type { EnergySupply, OptionTerms, SharedChance } from '../ledger/terms.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { OptionPlayer } from './play-option.ts'
import { SetCosts } from './set-costs.ts'

/**
 * Mean lifetime cost of an option over the first draws in each of some parameter sets (S1). Sets that differ in prices
 * only share their histories: they are played once, and each set is priced anew only in what it changes.
 *
 * @param plan - the option
 * @param draws - how many
 * @param parameterSets - each for all draws
 * @returns one mean a set
 */
export function meanCosts(plan: OptionPlan, draws: number, parameterSets: readonly ParameterSet[]): number[] {
  const sets = parameterSets.map(set => plan.at(set))
  const means = new Array<number>(sets.length).fill(0)
  for (const members of groupBy(sets, chanceOf)) {
    const shared = members.flatMap(i => sets[i] ?? [])
    const [first] = shared
    if (first === undefined) continue
    const player = new OptionPlayer(plan)
    const prices = new SharedPrices(plan, shared)
    for (let draw = 0; draw < draws; draw++) {
      player.play(draw, first)
      prices.add(player.history, player.chance)
    }
    members.forEach((i, place) => {
      means[i] = prices.mean(place, draws)
    })
  }
  return means
}

/** All that a history hangs on. */
function chanceOf({ truth, models, partsExitRate, labourExitRate }: OptionSet): unknown {
  return [truth, models, partsExitRate, labourExitRate]
}

/** What each stage of the ledger reads of the terms. */
const STAGES = {
  claims: ({ units }: OptionTerms): unknown => units.map(unit => [unit.cover, unit.ageYears]),
  repairs: ({ energy, battery, stringShares, yearlyCost, ...rest }: OptionTerms): unknown => rest,
  outages: ({ energy, battery, stringShares, logDiscount, units }: OptionTerms): unknown => [
    energy,
    battery,
    stringShares,
    logDiscount,
    units.map(unit => [unit.unitShare, unit.claimYears]),
  ],
}

/** One history priced under the terms of several sets: the first in full, the others where they differ from it. */
class SharedPrices {
  readonly #supply: EnergySupply
  readonly #sets: readonly {
    terms: OptionTerms
    costs: SetCosts
    claims: boolean
    repairs: boolean
    outages: boolean
  }[]
  readonly #valued: boolean
  readonly #sums: Float64Array
  readonly #account: Account
  readonly #claims = new Claims()
  readonly #ownClaims = new Claims()

  constructor(plan: OptionPlan, sets: readonly OptionSet[]) {
    const first = sets[0]?.terms
    const alike = (stage: keyof typeof STAGES, terms: OptionTerms): boolean =>
      first !== undefined && JSON.stringify(STAGES[stage](terms)) === JSON.stringify(STAGES[stage](first))
    this.#supply = plan.supply
    this.#valued = plan.scenario.residualValue === 'straight-line'
    this.#sums = new Float64Array(sets.length)
    this.#account = new Account(plan.scenario.horizonYears)
    this.#sets = sets.map(set => ({
      terms: set.terms,
      costs: new SetCosts(plan, set),
      claims: alike('claims', set.terms),
      repairs: alike('repairs', set.terms),
      outages: alike('outages', set.terms),
    }))
  }

  /** Prices a history under every set. */
  add(history: History, chance: SharedChance): void {
    let repairs = 0
    let lost = 0
    this.#sets.forEach(({ terms, costs, ...alike }, i) => {
      let ownRepairs = repairs
      let ownLost = lost
      if (history.nFailures > 0 && (i === 0 || !(alike.claims && alike.repairs && alike.outages))) {
        const claims = i === 0 || alike.claims ? this.#claims : this.#ownClaims
        if (i === 0 || !alike.claims) decideClaims(history, terms, chance, claims)
        this.#account.clear()
        if (i === 0 || !(alike.claims && alike.repairs)) {
          payRepairs(history, terms, chance, claims, this.#account, null)
          ownRepairs = this.#account.repairs
        }
        if (i === 0 || !(alike.claims && alike.outages)) {
          loseOutages(history, terms, this.#supply, claims, this.#account)
          ownLost = this.#account.outageEnergy + this.#account.batteryOutage
        }
      }
      if (i === 0) {
        repairs = ownRepairs
        lost = ownLost
      }
      const residual = this.#valued ? costs.residual.of(history) : 0
      this.#sums[i] = (this.#sums[i] ?? 0) + costs.fixed + ownRepairs + ownLost - residual
    })
  }

  /** Mean lifetime cost under one of the sets. */
  mean(place: number, draws: number): number {
    return (this.#sums[place] ?? 0) / draws
  }
}

/** Places of the items, grouped by what a function says of them. */
function groupBy<T>(items: readonly T[], key: (item: T) => unknown): number[][] {
  const groups = new Map<string, number[]>()
  items.forEach((item, i) => {
    const words = JSON.stringify(key(item))
    const group = groups.get(words)
    if (group === undefined) groups.set(words, [i])
    else group.push(i)
  })
  return [...groups.values()]
}
