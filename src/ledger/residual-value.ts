import type { History } from '../history/history.ts'
import { REPAIRED, type Rows } from '../history/rows.ts'
import type { Mode } from '../numerics/lives/competing-risks.ts'
import { DenseResidual } from '../numerics/lives/dense-residual.ts'
import { ResidualLives } from '../numerics/lives/mean-residual-life.ts'
import type { OptionTerms, UnitTerms } from './terms.ts'

/** Residual lives computed before: units of one kind have the same in every option of a run. */
const known = new WeakMap<readonly Mode[], ResidualLives>()

function residualLives(modes: readonly Mode[]): ResidualLives {
  const lives = known.get(modes) ?? new ResidualLives(modes)
  known.set(modes, lives)
  return lives
}

/**
 * Straight-line value at the horizon, discounted, of the units that still work then (C6): per unit the price of a
 * replacement's parts at the horizon × min(1, mean residual life / mean life of a new unit).
 */
export class ResidualValue {
  readonly #terms: OptionTerms
  readonly #dense: boolean
  // by population, computed when first needed: residual lives, mean life of a new unit, value of a new unit, value of
  // an original unit that never failed
  #lives: readonly (ResidualLives | DenseResidual)[] = []
  #meanLife: readonly number[] = []
  #full: readonly number[] = []
  #original: readonly number[] = []

  /**
   * @param terms - of the option in one parameter set
   * @param dense - whether tables are dense; worthwhile from thousands of lifetimes
   */
  constructor(terms: OptionTerms, dense: boolean) {
    this.#terms = terms
    this.#dense = dense
  }

  /**
   * Value of what works at the horizon.
   *
   * @param history - the lifetimes
   * @param out - filled: present value of each, >= 0
   */
  of(history: History, out: Float64Array): void {
    if (this.#lives.length === 0) this.#prepare()
    const { units } = this.#terms
    let untouched = 0
    units.forEach((unit, place) => {
      untouched += unit.count * (this.#original[place] ?? 0)
    })
    out.fill(untouched, 0, history.n)
    units.forEach((unit, place) => {
      const rows = history.rows[place]
      if (rows !== undefined) this.#add(rows, unit, place, out)
    })
    // a negative remainder of equal sums is rounding
    for (let lane = 0; lane < history.n; lane++) if ((out[lane] as number) < 0) out[lane] = 0
  }

  /** Replaces the value of each original unit that failed by that of the last unit of its slot. */
  #add(rows: Rows, unit: UnitTerms, place: number, out: Float64Array): void {
    const { horizonYears } = this.#terms
    const original = this.#original[place] ?? 0
    const full = this.#full[place] ?? 0
    const mean = this.#meanLife[place] ?? 0
    const lives = this.#lives[place]
    if (full === 0 || lives === undefined) return
    const { n, lane: laneOf, before, last, returnedAt, action, ageAfter, curedAfter } = rows
    for (let row = 0; row < n; row++) {
      const lane = laneOf[row] as number // the row is there
      if ((before[row] as number) < 0) out[lane] = (out[lane] as number) - original
      const at = returnedAt[row] as number
      if (last[row] !== 1 || at > horizonYears) continue
      const repaired = action[row] === REPAIRED
      const age = horizonYears - at + (repaired ? (ageAfter[row] as number) : 0)
      const cured = repaired ? (curedAfter[row] as number) : 0
      const left = cured === 0 ? lives.at(age) : new ResidualLives(unit.modes, cured).at(age)
      out[lane] = (out[lane] as number) + full * Math.min(1, left / mean)
    }
  }

  #prepare(): void {
    const { units, horizonYears, discount } = this.#terms
    this.#lives = units.map(({ modes, ageYears }) =>
      this.#dense ? new DenseResidual(modes, ageYears + horizonYears) : residualLives(modes),
    )
    this.#meanLife = this.#lives.map(lives => lives.at(0))
    this.#full = units.map((unit, place) =>
      this.#meanLife[place] === 0 ? 0 : unit.parts * Math.exp((unit.partsGrowth.rate + discount.rate) * horizonYears),
    )
    this.#original = units.map((unit, place) => {
      const left = this.#lives[place]?.at(unit.ageYears + horizonYears) ?? 0
      const full = this.#full[place] ?? 0
      return full === 0 ? 0 : full * Math.min(1, left / (this.#meanLife[place] ?? 1))
    })
  }
}
