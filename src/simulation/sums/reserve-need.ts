import { power } from '../../numerics/power.ts'

/** How an owner puts money aside (R2). */
export interface ReserveTerms {
  /** Interest per year, after inflation. */
  readonly interest: number
  /** Balance at the start. */
  readonly opening: number
  /** null: no table fixed in money. */
  readonly inflation: number | null
}

/** Discount factors of a reserve, prepared once. */
export class ReserveFactors {
  readonly opening: number
  /** By year: (1+i)^−k, and sums of it up to the year. */
  readonly #factor: Float64Array
  readonly #annuity: Float64Array
  /** Sums for a contribution fixed in money; null without inflation. */
  readonly #annuityInMoney: Float64Array | null

  /**
   * @param terms - of the reserve
   * @param horizonYears - years
   */
  constructor(terms: ReserveTerms, horizonYears: number) {
    this.opening = terms.opening
    this.#factor = Float64Array.from({ length: horizonYears }, (_, year) => power(1 + terms.interest, -year))
    this.#annuity = sumsOf(this.#factor)
    const inflation = terms.inflation
    this.#annuityInMoney =
      inflation === null ? null : sumsOf(this.#factor.map((factor, year) => factor * power(1 + inflation, -year)))
  }

  /**
   * The level contribution that keeps the account from running short in one lifetime (R2): the largest over y of
   * (Σ_{k≤y} cash_k (1+i)^−k − opening) / Σ_{k≤y} (1+i)^−k, not below 0.
   *
   * @param cash - by year, undiscounted
   * @param inMoney - fixed in money instead of rising with prices; needs inflation
   * @param yearly - paid in every year in addition
   * @param at - place of the first year in `cash`
   * @returns per year, at the start of each year, >= 0
   */
  need(cash: Float64Array, inMoney = false, yearly = 0, at = 0): number {
    const annuity = inMoney ? (this.#annuityInMoney ?? this.#annuity) : this.#annuity
    let spent = -this.opening
    let need = 0
    for (let year = 0; year < this.#factor.length; year++) {
      const amount = (cash[at + year] ?? 0) + yearly
      if (amount === 0) continue
      spent += amount * (this.#factor[year] ?? 0)
      const contribution = spent / (annuity[year] ?? 1)
      if (contribution > need) need = contribution
    }
    return need
  }

  /**
   * The same for a lifetime that pays the same each year, and more in some years: the largest contribution is that of
   * such a year, or of the last year where the opening balance is never used up.
   *
   * @param yearly - paid in every year, >= 0
   * @param further - paid beyond it, year by year, undiscounted
   * @param at - place of the first year in it
   * @param low - bit mask of the years with such a payment: 0 to 31; other entries are not read
   * @param high - the same for years 32 to 63
   * @returns per year, at the start of each year, >= 0
   */
  needBeside(yearly: number, further: Float64Array, at: number, low: number, high: number): number {
    let spent = -this.opening
    let most = -Infinity
    for (let word = 0; word < 2; word++) {
      for (let bits = word === 0 ? low : high; bits !== 0; bits &= bits - 1) {
        const year = 32 * word + 31 - Math.clz32(bits & -bits)
        const amount = further[at + year] as number // the year has its entry
        if (amount === 0) continue
        spent += amount * (this.#factor[year] as number)
        const contribution = spent / (this.#annuity[year] as number)
        if (contribution > most) most = contribution
      }
    }
    if (spent <= 0) most = Math.max(most, spent / (this.#annuity[this.#annuity.length - 1] ?? 1))
    return Math.max(0, yearly + most)
  }

  /**
   * The same, fixed in money instead of rising with prices; needs inflation.
   *
   * @param yearly - paid in every year, >= 0
   * @param further - paid beyond it, year by year, undiscounted
   * @param at - place of the first year in it
   * @param low - bit mask of the years with such a payment: 0 to 31; other entries are not read
   * @param high - the same for years 32 to 63
   * @returns per year, at the start of each year, >= 0
   */
  needInMoney(yearly: number, further: Float64Array, at: number, low: number, high: number): number {
    const cash = this.#factor.map((_, year) => {
      const paid = ((year < 32 ? low : high) >>> (year & 31)) & 1
      return paid === 1 ? (further[at + year] ?? 0) : 0
    })
    return this.need(cash, true, yearly)
  }
}

function sumsOf(factors: Float64Array): Float64Array {
  let sum = 0
  return factors.map(factor => {
    sum += factor
    return sum
  })
}
