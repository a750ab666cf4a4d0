import { batchStruck, drawExits, endOfProduction, laterUniform } from '../history/chance.ts'
import { Lifetimes } from '../history/lifetimes.ts'
import { playDraw } from '../history/play.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'

/** Lifetimes in hand at once, and rows after which no more are begun: few enough to stay in the processor's memory. Ours. */
export const MOST_LIFETIMES = 250
const MOST_ROWS = 4000

/** Plays lifetimes of one option, draw by draw, into one table. */
export class OptionPlayer {
  /** The lifetimes played since they were last cleared. */
  readonly lifetimes = new Lifetimes()
  readonly #plan: OptionPlan
  readonly #struck: boolean[]
  readonly #oldestAge: readonly number[]
  /** By model: chance of being out of production by age; empty: never. */
  readonly #production: readonly (readonly (readonly [ageYears: number, share: number])[])[]

  /** @param plan - the option, ready to be played */
  constructor(plan: OptionPlan) {
    const { scenario, option } = plan
    this.#plan = plan
    this.#struck = scenario.models.map(() => false)
    this.#oldestAge = scenario.models.map(model => model.oldestAgeYears)
    this.#production = scenario.models.map((_, model) => {
      const own = option.populations.find(population => population.model === model && population.successor !== null)
      return own?.successor?.chance ?? []
    })
  }

  /**
   * Empties the table and plays draws until it holds enough to be priced together.
   *
   * @param from - number of the first draw over the whole run
   * @param to - number after the last that may be played
   * @param set - the option in the draws' parameter set
   * @returns number after the last that was played
   */
  playSome(from: number, to: number, set: OptionSet): number {
    this.lifetimes.clear()
    let draw = from
    while (draw < to && this.hasRoom) this.play(draw++, set)
    return draw
  }

  /** Whether another lifetime may join those in the table. */
  get hasRoom(): boolean {
    return this.lifetimes.n < MOST_LIFETIMES && this.lifetimes.history.nFailures < MOST_ROWS
  }

  /**
   * Plays one draw: appends it to `lifetimes`.
   *
   * @param draw - number of the draw over the whole run
   * @param set - the option in the draw's parameter set
   */
  play(draw: number, set: OptionSet): void {
    this.strike(draw, set)
    this.playStruck(draw, set)
  }

  /**
   * The same, where `strike` has been asked already.
   *
   * @param draw - number of the draw over the whole run
   * @param set - the option in the draw's parameter set
   */
  playStruck(draw: number, set: OptionSet): void {
    const { lifetimes } = this
    const { history } = lifetimes
    const plan = this.#plan
    const chance = lifetimes.begin(this.#struck.length)
    plan.laterKeys.forEach((key, purchase) => {
      chance.later[purchase] = laterUniform(key, draw)
    })
    const before = history.nFailures
    playDraw(set.truth, draw, this.#struck, history)
    // who left and what went out of production is of no interest to a lifetime without a failure
    if (history.nFailures > before) {
      const horizon = set.truth.horizonYears
      drawExits(plan.partsProviderKey, draw, set.partsExitRate, horizon, chance.partsExits)
      drawExits(plan.labourProviderKey, draw, set.labourExitRate, horizon, chance.labourExits)
      for (const model of plan.modelsHere) {
        const points = this.#production[model] ?? []
        const key = plan.productionKeys[model]
        if (points.length === 0 || key === undefined) continue
        chance.endOfProduction[model] = endOfProduction(key, draw, points, this.#oldestAge[model] ?? 0)
      }
    }
    lifetimes.end()
  }

  /**
   * Draws only whether bad batches struck the models of the option (M4).
   *
   * @param draw - number of the draw over the whole run
   * @param set - the option in the draw's parameter set
   * @returns whether any did
   */
  strike(draw: number, set: OptionSet): boolean {
    let any = false
    for (const model of this.#plan.modelsHere) {
      const key = this.#plan.batchKeys[model]
      const struck = key !== undefined && batchStruck(key, draw, set.models[model]?.batchChance ?? 0)
      this.#struck[model] = struck
      any ||= struck
    }
    return any
  }

  /**
   * Draws the exits of the providers of a draw (W5) as another parameter set has them.
   *
   * @param draw - number of the draw over the whole run
   * @param set - the option in that set
   * @param lifetime - place of the draw among the lifetimes; its exits are replaced
   */
  leave(draw: number, set: OptionSet, lifetime: number): void {
    const horizon = set.truth.horizonYears
    const { partsExits, labourExits } = this.lifetimes.chanceOf(lifetime)
    drawExits(this.#plan.partsProviderKey, draw, set.partsExitRate, horizon, partsExits)
    drawExits(this.#plan.labourProviderKey, draw, set.labourExitRate, horizon, labourExits)
  }
}
