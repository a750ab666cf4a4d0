import type { Accounts } from '../ledger/accounts.ts'
import { decideClaims } from '../ledger/claims.ts'
import { lifetimeCosts } from '../ledger/cost-lines.ts'
import { countEarningsAndPurchases } from '../ledger/earnings-and-purchases.ts'
import { FixedCosts } from '../ledger/fixed-costs.ts'
import type { EnergyTables } from '../ledger/outages/energy-tables.ts'
import { Priced, priceLifetimes } from '../ledger/price-lifetimes.ts'
import { payRepairs } from '../ledger/repairs.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import type { OptionPlan } from './option-plan.ts'
import type { OptionSet } from './option-set.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { MOST_LIFETIMES, OptionPlayer } from './play-option.ts'
import { ControlsByDraw, type DrawControls } from './sums/controls-by-draw.ts'

/** Draws of a set from which on dense tables are worthwhile. Ours, measured. */
const DENSE_FROM = 400

/** What the draws of an option cost in a parameter set, with their control variates. */
export interface CostsInSet extends DrawControls {
  /** Lifetime cost by draw. */
  readonly costs: Float64Array
}

/**
 * Lifetime costs of the first draws of an option in each of some parameter sets (S1). Sets that differ in prices only
 * share their histories: they are played once, and each set is priced anew only in what it changes.
 *
 * @param plan - the option
 * @param draws - how many
 * @param parameterSets - each for all draws
 * @returns one entry a set
 */
export function costsInSets(plan: OptionPlan, draws: number, parameterSets: readonly ParameterSet[]): CostsInSet[] {
  const sets = parameterSets.map(set => plan.at(set, draws >= DENSE_FROM))
  const found = new Array<CostsInSet>(sets.length)
  const player = new OptionPlayer(plan)
  const unstruck = new UnstruckDraws(draws)
  const { horizonYears } = plan.scenario
  const memory = [new Priced(horizonYears), new Priced(horizonYears)] as const
  for (const members of groupBy(sets, historyOf)) {
    const shared = members.flatMap(i => sets[i] ?? [])
    const [first] = shared
    if (first === undefined) continue
    const controls = new ControlsByDraw(plan, first, draws)
    const prices = new SharedPrices(plan, player, shared, draws, memory)
    const known = unstruck.of(shared)
    const room = player.roomIn(first)
    for (let draw = 0; draw < draws; ) {
      player.clear()
      for (; draw < draws && player.n < room; draw++) {
        const struck = player.strike(draw, first)
        if (known !== null && !struck && !unstruck.struckFirst(draw)) {
          prices.take(draw, known.costs)
          controls.take(draw, known.unexpected)
          continue
        }
        if (known === null) unstruck.note(draw, struck)
        player.take(draw)
      }
      player.play(first)
      prices.add()
      controls.add(player.history)
    }
    members.forEach((i, place) => {
      found[i] = { costs: prices.costs(place), ...controls.found }
    })
    unstruck.finish(first, { costs: prices.costs(0), ...controls.found })
  }
  return found
}

/** All that a history depends on. */
function historyOf({ parameters, models }: OptionSet): unknown {
  return [parameters, models]
}

/**
 * Costs, in the first set of all, of the draws in which no bad batch struck: a set that differs from it in its batches
 * only has the same costs in them.
 */
class UnstruckDraws {
  /** 1 where a batch struck in the first set. */
  readonly #struck: Uint8Array
  #first: string | null = null
  #found: CostsInSet | null = null

  constructor(draws: number) {
    this.#struck = new Uint8Array(draws)
  }

  /** Result of the first set, where it holds for a single other set. */
  of(shared: readonly OptionSet[]): CostsInSet | null {
    const [set] = shared
    return set !== undefined && shared.length === 1 && this.#first === withoutBatch(set) ? this.#found : null
  }

  struckFirst(draw: number): boolean {
    return this.#struck[draw] === 1
  }

  note(draw: number, struck: boolean): void {
    if (this.#first === null && struck) this.#struck[draw] = 1
  }

  finish(set: OptionSet, found: CostsInSet): void {
    if (this.#first !== null) return
    this.#first = withoutBatch(set)
    this.#found = found
  }
}

function withoutBatch({ parameters, terms, models, partsExitRate, labourExitRate }: OptionSet): string {
  const units = parameters.units.map(unit => ({ ...unit, batch: null }))
  const multipliers = models.map(model => model.multiplier)
  return JSON.stringify([{ ...parameters, units }, terms, multipliers, partsExitRate, labourExitRate])
}

/** What the exits of a draw and each stage of the ledger read of a set. */
const STAGES = {
  exits: ({ partsExitRate, labourExitRate }: OptionSet): unknown => [partsExitRate, labourExitRate],
  claims: ({ terms }: OptionSet): unknown => terms.units.map(unit => [unit.cover, unit.ageYears]),
  repairs: ({ terms: { energy, battery, later, stringShares, yearlyCost, ...rest } }: OptionSet): unknown => rest,
  outages: ({ terms: { energy, battery, later, stringShares, discount, units } }: OptionSet): unknown => [
    energy,
    battery,
    later,
    stringShares,
    discount,
    units.map(unit => [unit.unitShare, unit.claimYears]),
  ],
} satisfies Record<string, (set: OptionSet) => unknown>

interface PricedSet {
  readonly place: number
  readonly set: OptionSet
  readonly costs: FixedCosts
  readonly tables: EnergyTables
  readonly residual: ResidualValue
  /** In which stages it equals the first set. */
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
  /** By set and draw. */
  readonly #byDraw: readonly Float64Array[]
  /** Under the first set, and under the one being priced. */
  readonly #first: Priced
  readonly #other: Priced
  readonly #repairs = new Float64Array(MOST_LIFETIMES)
  readonly #outages = new Float64Array(MOST_LIFETIMES)
  readonly #further = new Float64Array(MOST_LIFETIMES)
  readonly #costs = new Float64Array(MOST_LIFETIMES)

  constructor(
    plan: OptionPlan,
    player: OptionPlayer,
    sets: readonly OptionSet[],
    draws: number,
    memory: readonly [Priced, Priced],
  ) {
    const [first] = sets
    const words = new Map<keyof typeof STAGES, string>()
    const alike = (stage: keyof typeof STAGES, set: OptionSet): boolean => {
      if (first === undefined || set === first) return set === first
      const ofFirst = words.get(stage) ?? JSON.stringify(STAGES[stage](first))
      words.set(stage, ofFirst)
      return JSON.stringify(STAGES[stage](set)) === ofFirst
    }
    this.#player = player
    this.#valued = plan.scenario.residualValue === 'straight-line'
    this.#byDraw = sets.map(() => new Float64Array(draws))
    ;[this.#first, this.#other] = memory
    this.#sets = sets
      .map((set, place): PricedSet => {
        const sameExits = alike('exits', set)
        return {
          place,
          set,
          costs: new FixedCosts(set.terms, plan.supply),
          tables: plan.tablesFor(set.terms),
          residual: new ResidualValue(set.terms, set.dense),
          sameExits,
          sameClaims: sameExits && alike('claims', set),
          sameRepairs: alike('repairs', set),
          sameOutages: alike('outages', set),
        }
      })
      // sets with exits of their own come last: theirs replace those of the draw
      .sort((a, b) => Number(b.sameExits) - Number(a.sameExits) || a.place - b.place)
  }

  /** Prices the player's lifetimes under every set. */
  add(): void {
    const { history } = this.#player
    for (const priced of this.#sets) {
      const { place, costs, residual } = priced
      const [repairs, lost] = place === 0 ? this.#priceFirst(priced) : this.#price(priced)
      if (this.#valued) residual.of(history, lost.residual)
      repairs.sumRepairs(history.n, this.#repairs)
      lost.sumOutages(history.n, this.#outages)
      lost.sumFurther(history.n, this.#valued, this.#further)
      lifetimeCosts(costs.total, this.#repairs, this.#outages, this.#further, history.n, this.#costs)
      const byDraw = this.#byDraw[place]
      if (byDraw === undefined) continue
      for (let i = 0; i < history.n; i++) byDraw[history.draw[i] as number] = this.#costs[i] as number // every lane has one
    }
  }

  /** Takes the known cost of a draw, for a single set. */
  take(draw: number, known: Float64Array): void {
    const [byDraw] = this.#byDraw
    if (byDraw !== undefined) byDraw[draw] = known[draw] as number // every draw has one
  }

  /** Lifetime cost by draw under one of the sets. */
  costs(place: number): Float64Array {
    return this.#byDraw[place] ?? NONE
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
      countEarningsAndPurchases(history, set.terms, other.accounts)
    }
    return [keepsRepairs ? this.#first.accounts : other.accounts, keepsLost ? this.#first.accounts : other.accounts]
  }
}

const NONE = new Float64Array(0)

/** Indices of the items, grouped by a key. */
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
