import { comparedColumns, expectedFirst } from '../../history/expected-failures.ts'
import type { History } from '../../history/history.ts'
import { Unexpected } from '../../history/unexpected.ts'
import type { OptionPlan } from '../option-plan.ts'
import type { OptionSet } from '../option-set.ts'
import type { ControlLayout, OptionDraws } from './sum-layout.ts'

/** Years of a stretch: short ones explain most, but where sets differ there are other controls too. Ours. */
const STRETCH_YEARS = { oneSet: 1, manySets: 5 } as const
/**
 * Scales of a parameter set for each population: expected first failures by half the horizon and by all of it, prices
 * of parts and of labour.
 */
export const SCALES_PER_POPULATION = 4
/** Scales for the whole option: prices of energy. */
export const SCALES_OF_OPTION = 2

/**
 * The columns of a set's sums that are control variates (X3): failures less their expected number, by population and
 * stretch, and, where nothing is unknown, delays and seasons of failures likewise; batches that struck a model, less their
 * expected number; and the scales of the set. The sums by year and month follow, so that the controls apply to their
 * means too.
 *
 * @param plan - the option
 */
export function controlLayout({ option, scenario, modelsHere }: OptionPlan): ControlLayout {
  const { horizonYears } = scenario
  const oneSet = scenario.unknowns.length === 0
  const years = oneSet ? STRETCH_YEARS.oneSet : STRETCH_YEARS.manySets
  return {
    stretches: { horizonYears, years, count: Math.ceil(horizonYears / years), finely: oneSet },
    models: modelsHere.length,
    populations: option.populations.length,
    scales: SCALES_PER_POPULATION * option.populations.length + SCALES_OF_OPTION,
  }
}

/** Fills the columns of `controlLayout`, set after set. */
export class Controls {
  readonly #plan: OptionPlan
  readonly #at: number
  readonly #layout: ControlLayout
  readonly #watch: Unexpected
  readonly #unexpected: Float64Array
  readonly #struck: Float64Array
  readonly #first: Float64Array
  /** Sums of the block by year and month when the set began. */
  readonly #before: Float64Array

  /**
   * @param plan - the option
   * @param layout - from `controlLayout`
   * @param at - place of the first column in the sums of a set
   */
  constructor(plan: OptionPlan, layout: ControlLayout, at: number) {
    this.#plan = plan
    this.#layout = layout
    this.#at = at
    this.#watch = new Unexpected(layout.stretches)
    this.#unexpected = new Float64Array(layout.populations * comparedColumns(layout.stretches))
    this.#struck = new Float64Array(layout.models)
    this.#first = new Float64Array(layout.stretches.count)
    this.#before = new Float64Array(2 * layout.stretches.horizonYears + 12)
  }

  /** Begins a set: stores the sums of the block so far, which are those of earlier sets. */
  beginSet(block: OptionDraws): void {
    this.#unexpected.fill(0)
    this.#struck.fill(0)
    this.#byYearAndMonth(block, (i, sum) => {
      this.#before[i] = sum
    })
  }

  /** Counts lifetimes of the set. */
  count(history: History, { parameters, models }: OptionSet): void {
    this.#watch.add(parameters, history, this.#unexpected)
    this.#plan.modelsHere.forEach((model, i) => {
      let struck = 0
      const column = history.struck[model]
      if (column !== undefined) for (let lane = 0; lane < history.n; lane++) struck += column[lane] ?? 0
      this.#struck[i] = (this.#struck[i] ?? 0) + struck - history.n * (models[model]?.batchChance ?? 0)
    })
  }

  /**
   * Ends the set.
   *
   * @param sums - of the set, filled
   * @param draws - of the set
   * @param set - the option in it
   * @param block - sums of the block with it
   */
  endSet(sums: Float64Array, draws: number, { parameters, terms }: OptionSet, block: OptionDraws): void {
    const { stretches, models, scales } = this.#layout
    let at = this.#at
    sums.set(this.#unexpected, at)
    at += this.#unexpected.length
    sums.set(this.#struck, at)
    at += models
    const half = Math.floor(stretches.count / 2)
    const middle = 0.5 * terms.horizonYears
    const scale = (value: number): void => {
      sums[at++] = draws * value
    }
    for (const unit of parameters.units) {
      expectedFirst(unit, stretches, false, this.#first, 0)
      const failing = (from: number, to: number): number => {
        let sum = 0
        for (let i = from; i < to; i++) sum += this.#first[i] ?? 0
        return sum
      }
      const price = terms.units[unit.place]
      scale(failing(0, half))
      scale(failing(0, stretches.count))
      scale((price?.parts ?? 0) * (price?.partsGrowth.at(middle) ?? 1))
      scale((price?.labour ?? 0) + terms.callOut + (price?.onRoof ? terms.roofAccess : 0))
    }
    scale(terms.energy.importPrice)
    scale(terms.energy.exportPrice)
    if (at !== this.#at + this.#unexpected.length + models + scales) throw new RangeError('scales of a set do not fit')
    this.#byYearAndMonth(block, (i, sum) => {
      sums[at + i] = sum - (this.#before[i] ?? 0)
    })
  }

  #byYearAndMonth({ byYear, lostByMonthKwh }: OptionDraws, each: (i: number, sum: number) => void): void {
    const years = this.#layout.stretches.horizonYears
    for (let year = 0; year < years; year++) {
      each(year, byYear.cash[year] ?? 0)
      each(years + year, byYear.present[year] ?? 0)
    }
    for (let month = 0; month < 12; month++) each(2 * years + month, lostByMonthKwh[month] ?? 0)
  }
}
