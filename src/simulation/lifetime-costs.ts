import { allOf, type Stretch } from '../history/lifetimes.ts'
import { Accounts } from '../ledger/accounts.ts'
import { lifetimeCosts } from '../ledger/cost-lines.ts'
import { FixedCosts } from '../ledger/fixed-costs.ts'
import { priceLifetimes } from '../ledger/price-lifetimes.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import type { OptionTerms } from '../ledger/terms.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'
import { DRAWS_PER_BLOCK, DRAWS_PER_SET, type ParameterSet, parameterSetsOf } from './parameter-sets.ts'
import { MOST_LIFETIMES, OptionPlayer } from './play-option.ts'
import { type Prepared, planOf } from './run.ts'

/**
 * Lifetime cost of the first draws of an option in the sets of the run, and nothing else: what policies ask.
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
    const set = plan.at(parameterSet)
    costs.begin(set)
    for (let draw = from; draw < to; ) {
      const first = draw
      draw = player.playSome(first, to, set)
      costs.enter(first, allOf(player.lifetimes))
    }
  })
  return costs.byDraw
}

/**
 * The first draws of an option, played once and kept, so that a search over prices and terms need only price them (S2).
 */
export class KeptHistories {
  readonly #option: number
  readonly #player: OptionPlayer

  /**
   * @param prepared - the run
   * @param option - which option
   * @param draws - how many to keep, a multiple of 20
   */
  constructor(prepared: Prepared, option: number, draws: number) {
    const plan = planOf(prepared, option)
    this.#option = option
    this.#player = new OptionPlayer(plan)
    eachSet(prepared, draws, (parameterSet, from, to) => {
      const set = plan.at(parameterSet)
      for (let draw = from; draw < to; draw++) this.#player.play(draw, set)
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
    const { lifetimes } = this.#player
    if (draws > lifetimes.n) throw new RangeError(`${lifetimes.n} draws are kept, not ${draws}`)
    eachSet(changed, draws, (parameterSet, first, end) => {
      costs.begin(plan.pricesAt(parameterSet))
      costs.enter(first, { lifetimes, first, end })
    })
    return costs.byDraw
  }
}

/** Lifetime costs of one stretch of draws after another. */
class CostsByDraw {
  readonly byDraw: Float64Array
  readonly #plan: OptionPlan
  readonly #accounts: Accounts
  readonly #valued: boolean
  #prices: Prices | null = null
  // sums of the stretch in hand, by lifetime
  #repairs = new Float64Array(MOST_LIFETIMES)
  #outages = new Float64Array(MOST_LIFETIMES)
  #further = new Float64Array(MOST_LIFETIMES)

  constructor(plan: OptionPlan, draws: number) {
    this.#plan = plan
    this.byDraw = new Float64Array(draws)
    this.#accounts = new Accounts(plan.scenario.horizonYears)
    this.#valued = plan.scenario.residualValue === 'straight-line'
  }

  /** Takes up the prices of a parameter set. */
  begin({ terms, often }: Pick<OptionSet, 'terms' | 'often'>): void {
    const fixed = new FixedCosts(terms, this.#plan.supply).total
    this.#prices = { terms, fixed, residual: this.#valued ? new ResidualValue(terms, often) : null }
  }

  enter(firstDraw: number, stretch: Stretch): void {
    if (this.#prices === null) throw new RangeError('no prices')
    const { terms, fixed, residual } = this.#prices
    const accounts = this.#accounts
    const n = stretch.end - stretch.first
    if (n > this.#repairs.length) {
      this.#repairs = new Float64Array(n)
      this.#outages = new Float64Array(n)
      this.#further = new Float64Array(n)
    }
    priceLifetimes(stretch, terms, this.#plan.supply, accounts)
    residual?.of(stretch, accounts.residual)
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
  readonly residual: ResidualValue | null
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
