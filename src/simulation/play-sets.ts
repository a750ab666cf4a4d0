import type { Accounts } from '../ledger/accounts.ts'
import { countBesideFailures } from '../ledger/beside-failures.ts'
import { decideClaims } from '../ledger/claims.ts'
import { lifetimeCosts } from '../ledger/cost-lines.ts'
import type { EnergyTables } from '../ledger/energy-tables.ts'
import { FixedCosts } from '../ledger/fixed-costs.ts'
import { Priced, priceLifetimes } from '../ledger/price-lifetimes.ts'
import { payRepairs } from '../ledger/repairs.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import type { OptionTerms } from '../ledger/terms.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { MOST_LIFETIMES, OptionPlayer } from './play-option.ts'

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
  const inHand: DrawInHand[] = []
  for (const members of groupBy(sets, historyOf)) {
    const shared = members.flatMap(i => sets[i] ?? [])
    const [first] = shared
    if (first === undefined) continue
    const prices = new SharedPrices(plan, player, shared)
    const known = unstruck.of(shared)
    const room = player.roomIn(first)
    for (let draw = 0; draw < draws; ) {
      player.clear()
      inHand.length = 0
      for (; draw < draws && player.n < room; draw++) {
        const struck = player.strike(draw, first)
        const cost = struck ? undefined : known?.[draw]
        if (cost !== undefined && !Number.isNaN(cost)) {
          prices.take(cost)
          continue
        }
        player.take(draw)
        inHand.push({ draw, struck })
      }
      player.play(first)
      const costs = prices.add()
      inHand.forEach((one, i) => {
        if (!one.struck) unstruck.remember(one.draw, costs[i] ?? 0)
      })
    }
    unstruck.finish(first)
    members.forEach((i, place) => {
      means[i] = prices.mean(place, draws)
    })
  }
  return means
}

/** A draw among the lifetimes in hand, and whether a bad batch struck in it. */
interface DrawInHand {
  readonly draw: number
  readonly struck: boolean
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
  repairs: ({ energy, battery, later, stringShares, yearlyCost, ...rest }: OptionTerms): unknown => rest,
  outages: ({ energy, battery, later, stringShares, discount, units }: OptionTerms): unknown => [
    energy,
    battery,
    later,
    stringShares,
    discount,
    units.map(unit => [unit.unitShare, unit.claimYears]),
  ],
}

interface PricedSet {
  readonly place: number
  readonly set: OptionSet
  readonly costs: FixedCosts
  readonly tables: EnergyTables
  readonly residual: ResidualValue
  /** In what it is like the first set. */
  readonly sameExits: boolean
  readonly sameClaims: boolean
  readonly sameRepairs: boolean
  readonly sameOutages: boolean
}

/** Histories priced under the terms of several sets: the first in full, the others where they differ from it. */
class SharedPrices {
  readonly #player: OptionPlayer
  readonly #sets: readonly PricedSet[]
  readonly #valued: boolean
  readonly #sums: Float64Array
  /** Under the first set, and under the one in hand. */
  readonly #first: Priced
  readonly #other: Priced
  readonly #repairs = new Float64Array(MOST_LIFETIMES)
  readonly #outages = new Float64Array(MOST_LIFETIMES)
  readonly #further = new Float64Array(MOST_LIFETIMES)
  readonly #costs = new Float64Array(MOST_LIFETIMES)
  readonly #firstCosts = new Float64Array(MOST_LIFETIMES)

  constructor(plan: OptionPlan, player: OptionPlayer, sets: readonly OptionSet[]) {
    const [first] = sets
    const alike = (of: (set: OptionSet) => unknown, set: OptionSet): boolean =>
      first !== undefined && JSON.stringify(of(set)) === JSON.stringify(of(first))
    this.#player = player
    this.#valued = plan.scenario.residualValue === 'straight-line'
    this.#sums = new Float64Array(sets.length)
    this.#first = new Priced(plan.scenario.horizonYears)
    this.#other = new Priced(plan.scenario.horizonYears)
    this.#sets = sets
      .map((set, place): PricedSet => {
        const sameExits = alike(({ partsExitRate, labourExitRate }) => [partsExitRate, labourExitRate], set)
        return {
          place,
          set,
          costs: new FixedCosts(set.terms, plan.supply),
          tables: plan.tablesFor(set.terms),
          residual: new ResidualValue(set.terms, set.often),
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
   * Prices the player's lifetimes under every set.
   *
   * @returns lifetime cost of each under the first set; valid until the next call
   */
  add(): Float64Array {
    const { history } = this.#player
    for (const priced of this.#sets) {
      const { place, costs, residual } = priced
      const [repairs, lost] = place === 0 ? this.#priceFirst(priced) : this.#price(priced)
      if (this.#valued) residual.of(history, lost.residual)
      repairs.sumRepairs(history.n, this.#repairs)
      lost.sumOutages(history.n, this.#outages)
      lost.sumFurther(history.n, this.#valued, this.#further)
      const all = place === 0 ? this.#firstCosts : this.#costs
      lifetimeCosts(costs.total, this.#repairs, this.#outages, this.#further, history.n, all)
      let sum = 0
      for (let i = 0; i < history.n; i++) sum += all[i] ?? 0
      this.#sums[place] = (this.#sums[place] ?? 0) + sum
    }
    return this.#firstCosts
  }

  /** Takes a cost that is known already, for a single set. */
  take(cost: number): void {
    this.#sums[0] = (this.#sums[0] ?? 0) + cost
  }

  /** Mean lifetime cost under one of the sets. */
  mean(place: number, draws: number): number {
    return (this.#sums[place] ?? 0) / draws
  }

  #priceFirst({ set, tables }: PricedSet): [repairs: Accounts, lost: Accounts] {
    priceLifetimes(this.#player.history, set.terms, tables, this.#first)
    return [this.#first.accounts, this.#first.accounts]
  }

  /** Only the stages in which the set differs from the first. */
  #price({
    set,
    tables,
    sameExits,
    sameClaims,
    sameRepairs,
    sameOutages,
  }: PricedSet): [repairs: Accounts, lost: Accounts] {
    const { history } = this.#player
    const other = this.#other
    if (!sameExits) this.#player.leave(set)
    const keepsRepairs = sameClaims && sameRepairs
    const keepsLost = sameClaims && sameOutages
    if (!(keepsRepairs && keepsLost)) other.begin(history)
    const { claims } = sameClaims ? this.#first : other
    if (!sameClaims) decideClaims(history, set.terms, claims)
    if (!keepsRepairs) payRepairs(history, set.terms, claims, other.accounts, null)
    if (!keepsLost) {
      other.outages.lose(history, set.terms, tables, claims, other.accounts)
      countBesideFailures(history, set.terms, other.accounts)
    }
    return [keepsRepairs ? this.#first.accounts : other.accounts, keepsLost ? this.#first.accounts : other.accounts]
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
