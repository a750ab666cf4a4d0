import { History } from '../history/history.ts'
import type { OptionParameters } from '../history/parameters.ts'
import { lifetimeCosts } from '../ledger/cost-lines.ts'
import { FixedCosts } from '../ledger/fixed-costs.ts'
import type { EnergyTables } from '../ledger/outages/energy-tables.ts'
import { Priced, priceLifetimes } from '../ledger/price-lifetimes.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import type { OptionTerms } from '../ledger/terms.ts'
import type { OptionPlan } from './option-plan.ts'
import { type OptionSet, optionSet } from './option-set.ts'
import { DRAWS_PER_BLOCK, DRAWS_PER_SET, type ParameterSet, parameterSetsOf } from './parameter-sets.ts'
import { MOST_LIFETIMES, OptionPlayer } from './play-option.ts'
import { type Prepared, planOf } from './run.ts'
import { sameEnergy } from './same-energy.ts'

/**
 * Lifetime cost alone of the first draws of an option in the sets of the run, to compare policies.
 *
 * @param prepared - the run
 * @param option - which option
 * @param draws - how many, a multiple of 20
 * @returns one lifetime cost a draw
 */
export function firstCosts(prepared: Prepared, option: number, draws: number): Float64Array {
  const plan = planOf(prepared, option)
  const player = new OptionPlayer(plan)
  const costs = new CostsByDraw(plan, draws)
  eachSet(prepared, draws, (parameterSet, from, to) => {
    const set = plan.at(parameterSet, undefined, true)
    costs.begin(pricesOf(plan, set))
    for (let draw = from; draw < to; ) {
      const first = draw
      draw = player.playSome(first, to, set)
      costs.enter(first, player.history)
    }
  })
  return costs.byDraw
}

/**
 * The first draws of an option under one policy after another (M6, O3): every parameter set is prepared once, with its
 * prices and its tables of lives and energy.
 */
export class PolicyCosts {
  readonly draws: number
  readonly #plan: OptionPlan
  readonly #player: OptionPlayer
  readonly #ready: { readonly from: number; readonly to: number; readonly set: OptionSet; readonly prices: Prices }[] =
    []

  /**
   * @param prepared - the run
   * @param option - which option
   * @param draws - how many, a multiple of 20
   */
  constructor(prepared: Prepared, option: number, draws: number) {
    const plan = planOf(prepared, option)
    this.draws = draws
    this.#plan = plan
    this.#player = new OptionPlayer(plan)
    eachSet(prepared, draws, (parameterSet, from, to) => {
      const set = plan.at(parameterSet, undefined, true)
      this.#ready.push({ from, to, set, prices: pricesOf(plan, set) })
    })
  }

  /**
   * Lifetime costs under a policy.
   *
   * @param policy - changes what is done with units, and nothing of their lives
   * @returns one lifetime cost a draw
   */
  under(policy: (parameters: OptionParameters) => OptionParameters): Float64Array {
    const costs = new CostsByDraw(this.#plan, this.draws)
    for (const { from, to, set, prices } of this.#ready) {
      const changed = optionSet({ ...set, parameters: policy(set.parameters) })
      costs.begin(prices)
      for (let draw = from; draw < to; ) {
        const first = draw
        draw = this.#player.playSome(first, to, changed)
        costs.enter(first, this.#player.history)
      }
    }
    return costs.byDraw
  }
}

/**
 * The first draws of an option, played once and kept, so that a search over prices and terms need only price them (S2).
 */
export class KeptHistories {
  readonly #option: number
  readonly #draws: number
  /** Of neighbouring draws of one parameter set each. */
  readonly #kept: { readonly first: number; readonly history: History }[] = []
  /** By parameter set: the prices it was first priced with. Most inputs leave its energy tables as they are. */
  readonly #prices = new Map<ParameterSet, Prices>()

  /**
   * @param prepared - the run
   * @param option - which option
   * @param draws - how many to keep, a multiple of 20
   */
  constructor(prepared: Prepared, option: number, draws: number) {
    const plan = planOf(prepared, option)
    this.#option = option
    this.#draws = draws
    eachSet(prepared, draws, (parameterSet, from, to) => {
      const set = plan.at(parameterSet, undefined, true)
      for (let draw = from; draw < to; ) {
        const player = new OptionPlayer(plan, new History())
        this.#kept.push({ first: draw, history: player.history })
        draw = player.playSome(draw, to, set)
      }
    })
  }

  /**
   * Lifetime costs of the same histories under other prices and terms.
   *
   * @param changed - the run under a scenario that differs in prices and terms only
   * @param draws - how many, at most those kept, a multiple of 20
   * @returns one lifetime cost a draw
   */
  costs(changed: Prepared, draws: number): Float64Array {
    const plan = planOf(changed, this.#option)
    const costs = new CostsByDraw(plan, draws)
    if (draws > this.#draws) throw new RangeError(`${this.#draws} draws are kept, not ${draws}`)
    let place = 0
    eachSet(changed, draws, (parameterSet, _, end) => {
      const prices = pricesOf(plan, plan.pricesAt(parameterSet), this.#prices.get(parameterSet) ?? null)
      if (!this.#prices.has(parameterSet)) this.#prices.set(parameterSet, prices)
      costs.begin(prices)
      for (let kept = this.#kept[place]; kept !== undefined && kept.first < end; kept = this.#kept[++place]) {
        costs.enter(kept.first, kept.history)
      }
    })
    return costs.byDraw
  }
}

/** Collects lifetime costs by draw. */
class CostsByDraw {
  readonly byDraw: Float64Array
  readonly #priced: Priced
  #prices: Prices | null = null
  // sums of the draws being priced
  readonly #repairs = new Float64Array(MOST_LIFETIMES)
  readonly #outages = new Float64Array(MOST_LIFETIMES)
  readonly #further = new Float64Array(MOST_LIFETIMES)

  constructor(plan: OptionPlan, draws: number) {
    this.byDraw = new Float64Array(draws)
    this.#priced = new Priced(plan.scenario.horizonYears)
  }

  /** Sets the prices: those of one parameter set. */
  begin(prices: Prices): void {
    this.#prices = prices
  }

  enter(firstDraw: number, history: History): void {
    if (this.#prices === null) throw new RangeError('no prices')
    const { terms, fixed, tables, residual } = this.#prices
    const { accounts } = this.#priced
    const { n } = history
    priceLifetimes(history, terms, tables, this.#priced)
    residual?.of(history, accounts.residual)
    accounts.sumRepairs(n, this.#repairs)
    accounts.sumOutages(n, this.#outages)
    const costs = this.byDraw.subarray(firstDraw, firstDraw + n)
    accounts.sumFurther(n, residual !== null, this.#further)
    lifetimeCosts(fixed, this.#repairs, this.#outages, this.#further, n, costs)
  }
}

/** What a parameter set costs. */
interface Prices {
  readonly terms: OptionTerms
  readonly fixed: number
  readonly tables: EnergyTables
  readonly residual: ResidualValue | null
}

/** Prices of a set; equal parts of other prices of the same option are reused. */
function pricesOf(
  plan: OptionPlan,
  { terms, dense }: Pick<OptionSet, 'terms' | 'dense'>,
  other: Prices | null = null,
): Prices {
  const valued = plan.scenario.residualValue === 'straight-line'
  const energy = other !== null && sameEnergy(terms, other.terms) ? other : null
  const fixed = energy !== null && samePurchase(terms, energy.terms) ? energy.fixed : null
  return {
    terms,
    fixed: fixed ?? new FixedCosts(terms, plan.supply).total,
    tables: energy?.tables ?? plan.tablesFor(terms),
    residual: valued ? new ResidualValue(terms, dense) : null,
  }
}

/** Whether two terms have the same fixed costs, energy left out. */
function samePurchase(a: OptionTerms, b: OptionTerms): boolean {
  return a.upfrontCost === b.upfrontCost && a.warrantyPrice === b.warrantyPrice && a.yearlyCost === b.yearlyCost
}

/** Walks through the parameter sets of the first draws of a run (U1). */
function eachSet(
  { scenario, seed, points }: Prepared,
  draws: number,
  each: (set: ParameterSet, from: number, to: number) => void,
): void {
  const sets = parameterSetsOf(scenario, seed, points)
  const drawsPerSet = Math.min(sets.drawsPerSet(draws), draws)
  for (let first = 0; first < draws; first += Math.max(DRAWS_PER_BLOCK, drawsPerSet)) {
    const here = Math.min(Math.max(DRAWS_PER_BLOCK, drawsPerSet), draws - first)
    const ofBlock = sets.ofBlock(Math.floor(first / DRAWS_PER_BLOCK), Math.ceil(here / DRAWS_PER_SET))
    ofBlock.forEach((set, i) => {
      const from = first + i * drawsPerSet
      each(set, from, Math.min(from + drawsPerSet, first + here))
    })
  }
}
