import { comparedFailures } from '../../history/expected-failures.ts'
import type { History } from '../../history/history.ts'
import { Unexpected } from '../../history/unexpected.ts'
import type { OptionPlan } from '../option-plan.ts'
import type { OptionSet } from '../option-set.ts'
import { controlLayout } from './controls.ts'

/** Draws of a set below which means are plain and controls 0. Ours. */
export const LEAST_DRAWS = 400

/** Control variates of the draws of one parameter set (X3). */
export interface DrawControls {
  /**
   * Draws × columns, row-major: `Unexpected`, then batches less their expected number. Shared by sets that share
   * histories.
   */
  readonly unexpected: Float64Array
  readonly columns: number
  /** How many failures each of the first columns is about; see `comparedFailures`. */
  readonly expected: Float64Array
}

/** The control variates of every draw of a parameter set (X3). */
export class ControlsByDraw {
  readonly found: DrawControls
  readonly #plan: OptionPlan
  readonly #set: OptionSet
  readonly #watch: Unexpected
  readonly #wanted: boolean
  #inHand = new Float64Array(0)

  /**
   * @param plan - the option
   * @param set - in which it is played
   * @param draws - how many there will be
   */
  constructor(plan: OptionPlan, set: OptionSet, draws: number) {
    const { models, stretches } = controlLayout(plan)
    const expected = comparedFailures(set.parameters.units, stretches)
    const columns = expected.length + models
    this.found = { unexpected: new Float64Array(draws * columns), columns, expected }
    this.#wanted = draws >= LEAST_DRAWS
    this.#plan = plan
    this.#set = set
    this.#watch = new Unexpected(stretches)
  }

  /**
   * Counts some lifetimes.
   *
   * @param history - played
   */
  add(history: History): void {
    if (!this.#wanted) return
    const { unexpected, columns, expected } = this.found
    const { parameters, models } = this.#set
    if (this.#inHand.length < history.n * columns) this.#inHand = new Float64Array(history.n * columns)
    const inHand = this.#inHand.fill(0, 0, history.n * columns)
    this.#watch.add(parameters, history, inHand, columns)
    for (let lane = 0; lane < history.n; lane++) {
      this.#plan.modelsHere.forEach((model, i) => {
        const struck = history.struck[model]?.[lane] ?? 0
        inHand[lane * columns + expected.length + i] = struck - (models[model]?.batchChance ?? 0)
      })
      const from = lane * columns
      unexpected.set(inHand.subarray(from, from + columns), columns * (history.draw[lane] as number)) // every lane has one
    }
  }

  /**
   * Copies a draw from another set in which its history is the same; the chance of a batch is that of this set.
   *
   * @param draw - which
   * @param known - `unexpected` of that set
   */
  take(draw: number, known: Float64Array): void {
    const { unexpected, columns, expected } = this.found
    const from = draw * columns
    unexpected.set(known.subarray(from, from + expected.length), from)
    this.#plan.modelsHere.forEach((model, i) => {
      unexpected[from + expected.length + i] = 0 - (this.#set.models[model]?.batchChance ?? 0)
    })
  }
}
