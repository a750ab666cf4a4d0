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
    this.#factor = Float64Array.from({ length: horizonYears }, (_, year) => (1 + terms.interest) ** -year)
    this.#annuity = sumsOf(this.#factor)
    const inflation = terms.inflation
    this.#annuityInMoney =
      inflation === null ? null : sumsOf(this.#factor.map((factor, year) => factor * (1 + inflation) ** -year))
  }

  /**
   * The level contribution that keeps the account from running short in one lifetime (R2): the largest over y of
   * (Σ_{k≤y} cash_k (1+i)^−k − opening) / Σ_{k≤y} (1+i)^−k, not below 0.
   *
   * @param cash - by year, undiscounted
   * @param inMoney - fixed in money instead of rising with prices; needs inflation
   * @returns per year, at the start of each year, >= 0
   */
  need(cash: Float64Array, inMoney = false): number {
    const annuity = inMoney ? (this.#annuityInMoney ?? this.#annuity) : this.#annuity
    let spent = -this.opening
    let need = 0
    for (let year = 0; year < cash.length; year++) {
      const amount = cash[year] ?? 0
      if (amount === 0) continue
      spent += amount * (this.#factor[year] ?? 0)
      const contribution = spent / (annuity[year] ?? 1)
      if (contribution > need) need = contribution
    }
    return need
  }
}

function sumsOf(factors: Float64Array): Float64Array {
  let sum = 0
  return factors.map(factor => {
    sum += factor
    return sum
  })
}
