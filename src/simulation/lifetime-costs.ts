import { History } from '../history/history.ts'
import { Account } from '../ledger/account.ts'
import { priceDraw } from '../ledger/price-draw.ts'
import type { SharedChance } from '../ledger/terms.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'
import { DRAWS_PER_BLOCK, DRAWS_PER_SET, type ParameterSet, parameterSetsOf } from './parameter-sets.ts'
import { OptionPlayer } from './play-option.ts'
import { type Prepared, planOf } from './run.ts'
import { SetCosts } from './set-costs.ts'

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
    for (let draw = from; draw < to; draw++) {
      player.play(draw, set)
      costs.enter(draw, player.history, player.chance)
    }
  })
  return costs.byDraw
}

/**
 * The first draws of an option, played once and kept, so that a search over prices and terms need only price them (S2).
 */
export class KeptHistories {
  readonly #option: number
  readonly #draws: number
  /** All rows, one draw after another, and where each draw starts. */
  readonly #all = new History()
  readonly #firstRow: Int32Array
  readonly #firstVisit: Int32Array
  readonly #chance: SharedChance[] = []

  /**
   * @param prepared - the run
   * @param option - which option
   * @param draws - how many to keep, a multiple of 20
   */
  constructor(prepared: Prepared, option: number, draws: number) {
    const plan = planOf(prepared, option)
    const player = new OptionPlayer(plan)
    this.#option = option
    this.#draws = draws
    this.#firstRow = new Int32Array(draws + 1)
    this.#firstVisit = new Int32Array(draws + 1)
    eachSet(prepared, draws, (parameterSet, from, to) => {
      const set = plan.at(parameterSet)
      for (let draw = from; draw < to; draw++) {
        player.play(draw, set)
        const { history, chance } = player
        this.#all.append(history, 0, history.nFailures, 0, history.nVisits)
        this.#firstRow[draw + 1] = this.#all.nFailures
        this.#firstVisit[draw + 1] = this.#all.nVisits
        this.#chance.push({
          partsExits: [...chance.partsExits],
          labourExits: [...chance.labourExits],
          endOfProduction: chance.endOfProduction.slice(),
        })
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
    const history = new History()
    eachSet(changed, draws, (parameterSet, from, to) => {
      costs.begin(plan.at(parameterSet))
      for (let draw = from; draw < to; draw++) {
        const chance = this.#chance[draw]
        if (chance === undefined) throw new RangeError(`draw ${draw} of ${this.#draws} is not kept`)
        this.#load(draw, history)
        costs.enter(draw, history, chance)
      }
    })
    return costs.byDraw
  }

  #load(draw: number, history: History): void {
    const row = this.#firstRow[draw] ?? 0
    const visit = this.#firstVisit[draw] ?? 0
    const rows = (this.#firstRow[draw + 1] ?? row) - row
    const visits = (this.#firstVisit[draw + 1] ?? visit) - visit
    history.clear()
    history.append(this.#all, row, rows, visit, visits)
  }
}

/** Lifetime cost of one draw after another. */
class CostsByDraw {
  readonly byDraw: Float64Array
  readonly #plan: OptionPlan
  readonly #account: Account
  readonly #valued: boolean
  #set: OptionSet | null = null
  #costs: SetCosts | null = null

  constructor(plan: OptionPlan, draws: number) {
    this.#plan = plan
    this.byDraw = new Float64Array(draws)
    this.#account = new Account(plan.scenario.horizonYears)
    this.#valued = plan.scenario.residualValue === 'straight-line'
  }

  begin(set: OptionSet): void {
    this.#set = set
    this.#costs = new SetCosts(this.#plan, set)
  }

  enter(draw: number, history: History, chance: SharedChance): void {
    const set = this.#set
    const costs = this.#costs
    if (set === null || costs === null) return
    const account = this.#account
    priceDraw(history, set.terms, this.#plan.supply, chance, account)
    const residual = this.#valued ? costs.residual.of(history) : 0
    this.byDraw[draw] = costs.fixed + account.repairs + account.outageEnergy + account.batteryOutage - residual
  }
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
