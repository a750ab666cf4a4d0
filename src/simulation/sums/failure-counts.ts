import type { History } from '../../history/history.ts'
import { PLANNED, type Rows } from '../../history/rows.ts'
import type { Option } from '../../scenario/model.ts'
import { MOST_LIFETIMES } from '../play-option.ts'
import { effectOf, FAILURE_EFFECTS, FIRST_BY_EFFECT } from './failure-effects.ts'
import { type OptionDraws, POPULATION_COLUMNS, SUM_PLACE, type SumLayout } from './sum-layout.ts'

/** Failures of the lifetimes being priced: by population, by what they stop, by year. The memory is reused. */
export class FailureCounts {
  readonly #layout: SumLayout
  /** Counts of the population that is being counted, by lane. */
  readonly #counts = {
    failures: new Float64Array(MOST_LIFETIMES),
    firstFailures: new Float64Array(MOST_LIFETIMES),
    plannedReplacements: new Float64Array(MOST_LIFETIMES),
  }
  /** By population: place of what its failures stop among `FAILURE_EFFECTS`. */
  readonly #effects: Uint8Array
  /** By that place and lane: failures, and the earliest of them; then those of all. */
  readonly #failed = FAILURE_EFFECTS.map(() => new Float64Array(MOST_LIFETIMES))
  readonly #earliest = FAILURE_EFFECTS.map(() => new Float64Array(MOST_LIFETIMES))
  readonly #failedInAll = new Float64Array(MOST_LIFETIMES)
  readonly #earliestOfAll = new Float64Array(MOST_LIFETIMES)

  /**
   * @param option - its populations
   * @param layout - of the sums
   */
  constructor(option: Option, layout: SumLayout) {
    this.#layout = layout
    this.#effects = Uint8Array.from(option.populations, ({ kind }) => FAILURE_EFFECTS.indexOf(effectOf(kind)))
  }

  /**
   * Counts failures by lifetime, population and year.
   *
   * @param history - the lifetimes
   * @param sums - of the parameter set, added to
   * @param out - sums of squares and by year, added to
   */
  enter(history: History, sums: Float64Array, { byYear, squares }: Pick<OptionDraws, 'byYear' | 'squares'>): void {
    const { n } = history
    for (const column of this.#failed) column.fill(0, 0, n)
    for (const column of this.#earliest) column.fill(Infinity, 0, n)
    history.rows.forEach((rows, place) => {
      const own = this.#counts
      for (const column of Object.values(own)) column.fill(0, 0, n)
      const effect = this.#effects[place] ?? 0
      const failed = this.#failed[effect]
      const earliest = this.#earliest[effect]
      if (failed !== undefined && earliest !== undefined) countRows(rows, own, failed, earliest, byYear.failures)
      for (const column of POPULATION_COLUMNS) {
        sumColumn(own[column], n, this.#layout.ofPopulation(place, column), sums, squares)
      }
    })
    const all = this.#failedInAll.fill(0, 0, n)
    const first = this.#earliestOfAll.fill(Infinity, 0, n)
    FAILURE_EFFECTS.forEach((effect, i) => {
      const failed = this.#failed[i]
      const earliest = this.#earliest[i]
      if (failed === undefined || earliest === undefined) return
      for (let lane = 0; lane < n; lane++) {
        all[lane] = (all[lane] as number) + (failed[lane] as number) // every lane has its entry
        if ((earliest[lane] as number) < (first[lane] as number)) first[lane] = earliest[lane] as number
      }
      countYears(earliest, n, byYear[FIRST_BY_EFFECT[effect]])
      sumColumn(failed, n, SUM_PLACE[effect], sums, squares)
    })
    countYears(first, n, byYear.firstFailed)
    sumColumn(all, n, SUM_PLACE.failures, sums, squares)
  }
}

/**
 * Adds a column of some lifetimes to the sums of a parameter set and to the sums of squares.
 *
 * @param column - one entry a lifetime
 * @param n - how many
 * @param place - of the column, from the layout
 * @param sums - added to
 * @param squares - added to
 */
export function sumColumn(
  column: Float64Array,
  n: number,
  place: number,
  sums: Float64Array,
  squares: Float64Array,
): void {
  let sum = 0
  let square = 0
  for (let i = 0; i < n; i++) {
    const value = column[i] as number // every lifetime has its entry
    sum += value
    square += value * value
  }
  bump(sums, place, sum)
  bump(squares, place, square)
}

/** Counts lifetimes by the year of a moment; Infinity: never. */
function countYears(at: Float64Array, n: number, byYear: Float64Array): void {
  for (let lane = 0; lane < n; lane++) {
    const moment = at[lane] as number // every lane has its entry
    if (moment !== Infinity) bump(byYear, Math.floor(moment), 1)
  }
}

/** Counts the rows of a population by lane and year, and finds the earliest failure of each lane. */
function countRows(
  { n, lane: laneOf, before, action, failedAt }: Rows,
  own: Readonly<Record<(typeof POPULATION_COLUMNS)[number], Float64Array>>,
  all: Float64Array,
  earliest: Float64Array,
  byYear: Float64Array,
): void {
  const { failures, firstFailures, plannedReplacements } = own
  for (let row = 0; row < n; row++) {
    const lane = laneOf[row] as number // the row is there, as is its lane
    if (action[row] === PLANNED) {
      plannedReplacements[lane] = (plannedReplacements[lane] as number) + 1
      continue
    }
    const at = failedAt[row] as number
    const year = Math.floor(at)
    byYear[year] = (byYear[year] as number) + 1
    all[lane] = (all[lane] as number) + 1
    failures[lane] = (failures[lane] as number) + 1
    if ((before[row] as number) < 0) firstFailures[lane] = (firstFailures[lane] as number) + 1
    if (at < (earliest[lane] as number)) earliest[lane] = at
  }
}

function bump(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
