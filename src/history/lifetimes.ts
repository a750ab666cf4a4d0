import type { SharedChance } from './chance.ts'
import { History } from './history.ts'

/** The chance of one lifetime beside its rows; memory that serves again and again. */
export class LifetimeChance implements SharedChance {
  readonly partsExits: number[] = []
  readonly labourExits: number[] = []
  endOfProduction = new Float64Array(0)
  readonly later: number[] = []
}

/**
 * Lifetimes of one option, one after another in one table of rows: what the ledger reads. A stage of the ledger goes
 * over the rows of all of them in one loop. The memory serves again and again.
 */
export class Lifetimes {
  /** The rows of all lifetimes; rows and visits of one stand together. */
  readonly history = new History()
  /** How many there are. */
  n = 0
  /** Where the rows of each begin, and at [n] where the last end; the same of the visits. */
  firstRow = new Int32Array(64)
  firstVisit = new Int32Array(64)
  readonly #chances: LifetimeChance[] = []

  /** Forgets all. */
  clear(): void {
    this.n = 0
    this.history.clear()
  }

  /**
   * Makes room for one more; its rows are then appended to `history`, and `end` closes it.
   *
   * @param models - of the scenario
   * @returns its chance, to be filled: without exits, production without end
   */
  begin(models: number): LifetimeChance {
    const chance = this.#chances[this.n] ?? new LifetimeChance()
    this.#chances[this.n] = chance
    // an empty list that is emptied again costs more than the question
    if (chance.partsExits.length > 0) chance.partsExits.length = 0
    if (chance.labourExits.length > 0) chance.labourExits.length = 0
    if (chance.endOfProduction.length !== models) chance.endOfProduction = new Float64Array(models)
    for (let model = 0; model < models; model++) chance.endOfProduction[model] = Infinity
    return chance
  }

  /** Closes the lifetime that was begun last. */
  end(): void {
    const { history } = this
    if (++this.n >= this.firstRow.length) this.#grow()
    this.firstRow[this.n] = history.nFailures
    this.firstVisit[this.n] = history.nVisits
  }

  /** Exits and ends of production of a lifetime. */
  chanceOf(lifetime: number): LifetimeChance {
    const chance = this.#chances[lifetime]
    if (chance === undefined) throw new RangeError(`no lifetime ${lifetime}`)
    return chance
  }

  #grow(): void {
    const [rows, visits] = [this.firstRow, this.firstVisit]
    this.firstRow = new Int32Array(2 * rows.length)
    this.firstVisit = new Int32Array(2 * visits.length)
    this.firstRow.set(rows)
    this.firstVisit.set(visits)
  }
}

/** Some neighbouring lifetimes: those from `first` up to, not including, `end`. */
export interface Stretch {
  readonly lifetimes: Lifetimes
  readonly first: number
  readonly end: number
}

/**
 * All lifetimes of a table.
 *
 * @param lifetimes - the table
 */
export function allOf(lifetimes: Lifetimes): Stretch {
  return { lifetimes, first: 0, end: lifetimes.n }
}
