import { REPAIRED } from '../history/history.ts'
import type { Lifetimes, Stretch } from '../history/lifetimes.ts'
import { DenseResidual } from '../numerics/dense-residual.ts'
import { ResidualLives } from '../numerics/mean-residual-life.ts'
import type { OptionTerms, UnitTerms } from './terms.ts'

let superseded = new Uint8Array(256)

/**
 * Straight-line value at the horizon, discounted, of the units that still work then (C6): per unit the price of a
 * replacement's parts at the horizon × min(1, mean residual life / mean life of a new unit).
 */
export class ResidualValue {
  readonly #terms: OptionTerms
  readonly #often: boolean
  readonly #shares: Float64Array
  /** Price of a unit's parts at the horizon, discounted. */
  readonly #priceThen: Float64Array
  // worked out when first asked: mean further lives, that of a new unit, the share left in an original one that never failed
  #lives: readonly (ResidualLives | DenseResidual)[] = []
  #meanLife = new Float64Array(0)
  #originalShare = new Float64Array(0)
  /** Value where nothing ever failed. */
  #untouched = 0

  /**
   * @param terms - of the option in one parameter set
   * @param often - whether thousands of lifetimes will be asked for
   */
  constructor(terms: OptionTerms, often: boolean) {
    this.#terms = terms
    this.#often = often
    this.#shares = new Float64Array(terms.units.length)
    this.#priceThen = Float64Array.from(
      terms.units,
      unit => unit.parts * Math.exp((unit.partsGrowth.rate + terms.discount.rate) * terms.horizonYears),
    )
  }

  /**
   * Value of what works at the horizon in some lifetimes.
   *
   * @param stretch - the lifetimes
   * @param out - filled: present value of each, >= 0
   */
  of({ lifetimes, first, end }: Stretch, out: Float64Array): void {
    if (this.#meanLife.length === 0) this.#prepare()
    for (let lifetime = first; lifetime < end; lifetime++) out[lifetime - first] = this.#ofOne(lifetimes, lifetime)
  }

  #ofOne({ history, firstRow }: Lifetimes, lifetime: number): number {
    const { units, horizonYears } = this.#terms
    const from = firstRow[lifetime] ?? 0
    const to = firstRow[lifetime + 1] ?? 0
    if (from === to) return this.#untouched
    const shares = this.#shares
    for (let place = 0; place < units.length; place++) {
      shares[place] = (units[place]?.count ?? 0) * (this.#originalShare[place] ?? 0)
    }
    if (to > superseded.length) superseded = new Uint8Array(2 * to)
    for (let row = from; row < to; row++) superseded[row] = 0
    for (let row = to - 1; row >= from; row--) {
      const place = history.place[row] ?? 0
      const unit = units[place]
      if (unit === undefined) continue
      const before = history.before[row] ?? -1
      if (before >= 0) superseded[before] = 1
      else shares[place] = (shares[place] ?? 0) - (this.#originalShare[place] ?? 0)
      if (superseded[row] === 1) continue
      const returnedAt = history.returnedAt[row] ?? Infinity
      if (returnedAt > horizonYears) continue
      const repaired = history.action[row] === REPAIRED
      const age = (repaired ? (history.ageAfter[row] ?? 0) : 0) + horizonYears - returnedAt
      const cured = repaired ? (history.curedAfter[row] ?? 0) : 0
      shares[place] = (shares[place] ?? 0) + this.#share(place, unit, age, cured)
    }
    return this.#valueOf(shares)
  }

  #valueOf(shares: Float64Array): number {
    let value = 0
    for (let place = 0; place < shares.length; place++) {
      value += (this.#priceThen[place] ?? 0) * Math.max(shares[place] ?? 0, 0)
    }
    return value
  }

  #prepare(): void {
    const { units, horizonYears } = this.#terms
    this.#lives = units.map(({ modes, ageYears }) =>
      this.#often ? new DenseResidual(modes, ageYears + horizonYears) : new ResidualLives(modes),
    )
    this.#meanLife = Float64Array.from(this.#lives, lives => lives.at(0))
    this.#originalShare = Float64Array.from(units, (unit, place) =>
      this.#share(place, unit, unit.ageYears + horizonYears, 0),
    )
    this.#untouched = this.#valueOf(this.#originalShare.map((share, place) => share * (units[place]?.count ?? 0)))
  }

  #share(place: number, unit: UnitTerms, ageYears: number, cured: number): number {
    const mean = this.#meanLife[place] ?? 0
    if (mean === 0) return 0
    const lives = cured === 0 ? this.#lives[place] : new ResidualLives(unit.modes, cured)
    return Math.min(1, (lives?.at(ageYears) ?? 0) / mean)
  }
}
