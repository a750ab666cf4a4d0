import { Account } from '../ledger/account.ts'
import { Claims, decideClaims } from '../ledger/claims.ts'
import { loseOutages } from '../ledger/outage-energy.ts'
import { payRepairs } from '../ledger/repairs.ts'
import type { EnergySupply, OptionTerms } from '../ledger/terms.ts'
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
  const sets = parameterSets.map(set => plan.at(set, true))
  const means = new Array<number>(sets.length).fill(0)
  const player = new OptionPlayer(plan)
  const unstruck = new UnstruckDraws(draws)
  for (const members of groupBy(sets, historyOf)) {
    const shared = members.flatMap(i => sets[i] ?? [])
    const [first] = shared
    if (first === undefined) continue
    const prices = new SharedPrices(plan, player, shared)
    const known = unstruck.of(shared)
    for (let draw = 0; draw < draws; draw++) {
      const struck = player.strike(draw, first)
      const cost = struck ? undefined : known?.[draw]
      if (cost !== undefined && !Number.isNaN(cost)) {
        prices.take(cost)
        continue
      }
      player.play(draw, first)
      const own = prices.add(draw)
      if (!struck) unstruck.remember(draw, own)
    }
    unstruck.finish(first)
    members.forEach((i, place) => {
      means[i] = prices.mean(place, draws)
    })
  }
  return means
}

/** All that a history hangs on. */
function historyOf({ truth, models }: OptionSet): unknown {
  return [truth, models]
}

/**
 * Costs of the draws in which no bad batch struck, in the first set of all: a set that differs from it in nothing but
 * its batches comes to the same in them.
 */
class UnstruckDraws {
  readonly #costs: Float64Array
  #first: string | null = null

  constructor(draws: number) {
    this.#costs = new Float64Array(draws).fill(Number.NaN)
  }

  /** The costs, where they hold for a lone set; not a number where a batch struck. */
  of(shared: readonly OptionSet[]): Float64Array | null {
    const [set] = shared
    return set !== undefined && shared.length === 1 && this.#first === withoutBatch(set) ? this.#costs : null
  }

  remember(draw: number, cost: number): void {
    if (this.#first === null) this.#costs[draw] = cost
  }

  finish(set: OptionSet): void {
    this.#first ??= withoutBatch(set)
  }
}

function withoutBatch({ truth, terms, models, partsExitRate, labourExitRate }: OptionSet): string {
  const units = truth.units.map(unit => ({ ...unit, batch: null }))
  const multipliers = models.map(model => model.multiplier)
  return JSON.stringify([{ ...truth, units }, terms, multipliers, partsExitRate, labourExitRate])
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

interface PricedSet {
  readonly place: number
  readonly set: OptionSet
  readonly costs: SetCosts
  /** In what it is like the first set. */
  readonly sameExits: boolean
  readonly sameClaims: boolean
  readonly sameRepairs: boolean
  readonly sameOutages: boolean
}

/** One history priced under the terms of several sets: the first in full, the others where they differ from it. */
class SharedPrices {
  readonly #supply: EnergySupply
  readonly #player: OptionPlayer
  readonly #sets: readonly PricedSet[]
  readonly #valued: boolean
  readonly #sums: Float64Array
  readonly #account: Account
  readonly #claims = new Claims()
  readonly #ownClaims = new Claims()

  constructor(plan: OptionPlan, player: OptionPlayer, sets: readonly OptionSet[]) {
    const [first] = sets
    const alike = (of: (set: OptionSet) => unknown, set: OptionSet): boolean =>
      first !== undefined && JSON.stringify(of(set)) === JSON.stringify(of(first))
    this.#supply = plan.supply
    this.#player = player
    this.#valued = plan.scenario.residualValue === 'straight-line'
    this.#sums = new Float64Array(sets.length)
    this.#account = new Account(plan.scenario.horizonYears)
    this.#sets = sets
      .map((set, place): PricedSet => {
        const sameExits = alike(({ partsExitRate, labourExitRate }) => [partsExitRate, labourExitRate], set)
        return {
          place,
          set,
          costs: new SetCosts(plan, set),
          sameExits,
          sameClaims: sameExits && alike(({ terms }) => STAGES.claims(terms), set),
          sameRepairs: alike(({ terms }) => STAGES.repairs(terms), set),
          sameOutages: alike(({ terms }) => STAGES.outages(terms), set),
        }
      })
      // sets with exits of their own come last: theirs replace those of the draw
      .sort((a, b) => Number(b.sameExits) - Number(a.sameExits) || a.place - b.place)
  }

  /**
   * Prices the player's history under every set.
   *
   * @returns lifetime cost under the first set
   */
  add(draw: number): number {
    let repairs = 0
    let lost = 0
    let firstCost = 0
    for (const priced of this.#sets) {
      const { place, costs } = priced
      const [ownRepairs, ownLost] =
        this.#player.history.nFailures === 0 ? [0, 0] : this.#price(draw, priced, repairs, lost)
      if (place === 0) [repairs, lost] = [ownRepairs, ownLost]
      const residual = this.#valued ? costs.residual.of(this.#player.history) : 0
      const cost = costs.fixed + ownRepairs + ownLost - residual
      if (place === 0) firstCost = cost
      this.#sums[place] = (this.#sums[place] ?? 0) + cost
    }
    return firstCost
  }

  /** Takes a cost that is known already, for a single set. */
  take(cost: number): void {
    this.#sums[0] = (this.#sums[0] ?? 0) + cost
  }

  /** Mean lifetime cost under one of the sets. */
  mean(place: number, draws: number): number {
    return (this.#sums[place] ?? 0) / draws
  }

  /** Repairs and losses under one set; `repairs` and `lost` are those of the first. */
  #price(draw: number, priced: PricedSet, repairs: number, lost: number): [repairs: number, lost: number] {
    const { set, place, sameExits, sameClaims, sameRepairs, sameOutages } = priced
    const { history, chance } = this.#player
    if (place > 0 && sameClaims && sameRepairs && sameOutages) return [repairs, lost]
    if (!sameExits) this.#player.leave(draw, set)
    const claims = place === 0 || sameClaims ? this.#claims : this.#ownClaims
    if (place === 0 || !sameClaims) decideClaims(history, set.terms, chance, claims)
    const account = this.#account
    account.clear()
    let ownRepairs = repairs
    let ownLost = lost
    if (place === 0 || !(sameClaims && sameRepairs)) {
      payRepairs(history, set.terms, chance, claims, account, null)
      ownRepairs = account.repairs
    }
    if (place === 0 || !(sameClaims && sameOutages)) {
      loseOutages(history, set.terms, this.#supply, claims, account)
      ownLost = account.outageEnergy + account.batteryOutage
    }
    return [ownRepairs, ownLost]
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
