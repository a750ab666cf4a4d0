import { batchStruck, drawExits, endOfProduction } from '../history/chance.ts'
import { History } from '../history/history.ts'
import { playDraw } from '../history/play.ts'
import type { SharedChance } from '../ledger/terms.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'

/** Plays lifetimes of one option, draw by draw, with memory that serves all of them. */
export class OptionPlayer {
  /** The history of the latest draw. */
  readonly history = new History()
  /** Exits and ends of production of the latest draw. */
  readonly chance: SharedChance
  readonly #plan: OptionPlan
  readonly #partsExits: number[] = []
  readonly #labourExits: number[] = []
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
    this.chance = {
      partsExits: this.#partsExits,
      labourExits: this.#labourExits,
      endOfProduction: new Float64Array(scenario.models.length).fill(Infinity),
    }
  }

  /**
   * Plays one draw: fills `history` and `chance`.
   *
   * @param draw - number of the draw over the whole run
   * @param set - the option in the draw's parameter set
   */
  play(draw: number, set: OptionSet): void {
    this.strike(draw, set)
    const plan = this.#plan
    for (const model of plan.modelsHere) {
      const productionKey = plan.productionKeys[model]
      const points = this.#production[model] ?? []
      this.chance.endOfProduction[model] =
        points.length === 0 || productionKey === undefined
          ? Infinity
          : endOfProduction(productionKey, draw, points, this.#oldestAge[model] ?? 0)
    }
    playDraw(set.truth, draw, this.#struck, this.history)
    this.leave(draw, set)
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
   * Draws only the exits of the providers (W5), into `chance`.
   *
   * @param draw - number of the draw over the whole run
   * @param set - the option in the draw's parameter set
   */
  leave(draw: number, set: OptionSet): void {
    const horizon = set.truth.horizonYears
    drawExits(this.#plan.partsProviderKey, draw, set.partsExitRate, horizon, this.#partsExits)
    drawExits(this.#plan.labourProviderKey, draw, set.labourExitRate, horizon, this.#labourExits)
  }
}
