import { batchStruck, drawExits, endOfProduction, laterUniform } from '../history/chance.ts'
import { History } from '../history/history.ts'
import { playLanes } from '../history/play.ts'
import type { OptionPlan } from './option-plan.ts'
import type { OptionSet } from './option-set.ts'

/** Lifetimes played at once, at most, and rows aimed at: few enough for the processor's cache. Ours. */
export const MOST_LIFETIMES = 1000
const ROWS_IN_HAND = 1000

/** Plays lifetimes of one option, many side by side. */
export class OptionPlayer {
  /** The lifetimes that were played last. */
  readonly history: History
  readonly #plan: OptionPlan
  readonly #oldestAge: readonly number[]
  /** By model: chance of being out of production by age; empty: never. */
  readonly #production: readonly (readonly (readonly [ageYears: number, share: number])[])[]
  // draws taken for the next play: their numbers, and by model whether a bad batch struck it
  #n = 0
  readonly #draws = new Float64Array(MOST_LIFETIMES)
  readonly #struck: readonly Uint8Array[]
  readonly #touched = new Uint8Array(MOST_LIFETIMES)

  /**
   * @param plan - the option, ready to be played
   * @param history - filled at each play
   */
  constructor(plan: OptionPlan, history: History = new History()) {
    const { scenario, option } = plan
    this.#plan = plan
    this.history = history
    this.#struck = scenario.models.map(() => new Uint8Array(MOST_LIFETIMES))
    this.#oldestAge = scenario.models.map(model => model.oldestAgeYears)
    this.#production = scenario.models.map((_, model) => {
      const own = option.populations.find(population => population.model === model && population.successor !== null)
      return own?.successor?.chance ?? []
    })
  }

  /**
   * Plays the next draws, as many as are priced together.
   *
   * @param from - number of the first draw over the whole run
   * @param to - number after the last that may be played
   * @param set - the option in the draws' parameter set
   * @returns number after the last that was played
   */
  playSome(from: number, to: number, set: OptionSet): number {
    const end = Math.min(to, from + this.roomIn(set))
    this.clear()
    for (let draw = from; draw < end; draw++) {
      this.strike(draw, set)
      this.take(draw)
    }
    this.play(set)
    return end
  }

  /**
   * How many lifetimes are played at once: about a thousand rows. The number depends on the parameter set alone, so that no result
   * depends on what was played before.
   *
   * @param set - the option in the draws' parameter set
   * @returns at least 1
   */
  roomIn({ parameters }: OptionSet): number {
    let rows = 0
    for (const { count, multiplier, hazardAtStart, hazardAtHorizon } of parameters.units) {
      const first = multiplier * (hazardAtHorizon - hazardAtStart)
      // a slot with a hazard above 1 fails about √hazard times, for usual shapes
      rows += count * (first > 1 ? Math.sqrt(first) : first)
    }
    return Math.max(1, Math.min(MOST_LIFETIMES, Math.ceil(ROWS_IN_HAND / Math.max(rows, 1e-3))))
  }

  /** Forgets the draws that were taken. */
  clear(): void {
    this.#n = 0
  }

  /** How many draws have been taken. */
  get n(): number {
    return this.#n
  }

  /**
   * Draws whether bad batches struck the models of the option (M4), for the draw that is taken next.
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
      const column = this.#struck[model]
      if (column !== undefined) column[this.#n] = struck ? 1 : 0
      any ||= struck
    }
    return any
  }

  /** Adds a draw, for which `strike` has just been called; at most as many as fit. */
  take(draw: number): void {
    this.#draws[this.#n++] = draw
  }

  /**
   * Plays the draws taken: fills `history`, one lane a draw in the order in which they were taken.
   *
   * @param set - the option in their parameter set
   */
  play(set: OptionSet): void {
    const { history } = this
    const n = this.#n
    history.begin(n, set.parameters.units.length, this.#struck.length)
    history.draw.set(this.#draws.subarray(0, n))
    this.#struck.forEach((column, model) => {
      history.struck[model]?.set(column.subarray(0, n))
    })
    for (const unit of set.parameters.units) {
      const starts = history.starts[unit.place]
      starts?.keyHigh.fill(unit.key.high, 0, n)
      starts?.keyLow.fill(unit.key.low, 0, n)
      starts?.ageYears.fill(unit.ageYears, 0, n)
      starts?.hazardAtStart.fill(unit.hazardAtStart, 0, n)
      starts?.hazardAtHorizon.fill(unit.hazardAtHorizon, 0, n)
    }
    history.later = this.#plan.laterKeys.map(key => history.draw.subarray(0, n).map(draw => laterUniform(key, draw)))
    playLanes(set.parameters, history)
    this.leave(set)
    this.#endProduction(history)
  }

  /**
   * Draws the exits of the providers (W5) at the rates of a parameter set, except in lifetimes without a failure, which
   * they cannot change.
   *
   * @param set - the option in that set
   * @param history - lifetimes of this option
   */
  leave(set: OptionSet, history: History = this.history): void {
    const { partsExits, labourExits } = history
    partsExits.begin(history.n)
    labourExits.begin(history.n)
    if (set.partsExitRate <= 0 && set.labourExitRate <= 0) return
    const { horizonYears } = set.parameters
    history.markTouched(this.#touched)
    for (let lane = 0; lane < history.n; lane++) {
      if (this.#touched[lane] === 0) continue
      const draw = history.draw[lane] ?? 0
      drawExits(this.#plan.partsProviderKey, draw, set.partsExitRate, horizonYears, partsExits, lane)
      drawExits(this.#plan.labourProviderKey, draw, set.labourExitRate, horizonYears, labourExits, lane)
    }
  }

  #endProduction(history: History): void {
    for (const model of this.#plan.modelsHere) {
      const points = this.#production[model] ?? []
      const key = this.#plan.productionKeys[model]
      const ends = history.endOfProduction[model]
      if (points.length === 0 || key === undefined || ends === undefined) continue
      const oldest = this.#oldestAge[model] ?? 0
      for (let lane = 0; lane < history.n; lane++) {
        ends[lane] = endOfProduction(key, history.draw[lane] ?? 0, points, oldest)
      }
    }
  }
}
