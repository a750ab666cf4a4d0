import { power } from '../../numerics/power.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import type { RunningSums } from '../../numerics/samples/running-sums.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { TwoPartReserve } from '../results/option.ts'
import type { CashFinding } from './cash-by-year.ts'

/**
 * What to have ready at the start and what to put aside each year (R2a): the deposit that pays the mean cash over the
 * horizon, and the smallest sum at the start, the opening balance included, with which the lifetimes stay solvent. Found
 * on a walk at the interest of the reserve.
 */
export class TwoPartWalk implements CashFinding {
  readonly #interest: number
  readonly #confidence: number
  /** By how much the deposit falls a year. */
  readonly #falls: number
  readonly #perYear: number
  readonly #ready: Float64Array
  #covered = 0

  /**
   * @param draws - how many
   * @param reserve - its terms
   * @param meanCash - by year, undiscounted
   * @param median - deposit that is enough in half of the lifetimes (R2), the least deposit
   * @param fixedInMoney - whether the deposit stays the same in money, and so falls with inflation
   */
  constructor(
    draws: number,
    { interest, confidence, inflation }: Scenario['reserve'],
    meanCash: readonly number[],
    median: number,
    fixedInMoney: boolean,
  ) {
    this.#interest = interest
    this.#confidence = confidence
    this.#falls = fixedInMoney ? (inflation ?? 0) : 0
    this.#perYear = Math.max(levelDeposit(meanCash, interest, this.#falls), median)
    this.#ready = new Float64Array(draws)
  }

  enter(year: number, { sums }: RunningSums, besides: number): void {
    this.#covered += this.#perYear * power(1 + this.#falls, -year) * power(1 + this.#interest, -year)
    findMost(this.#ready, sums, besides - this.#covered)
  }

  /** After the walk. */
  get found(): TwoPartReserve {
    const [ready = 0] = quantiles(this.#ready, [this.#confidence])
    return { ready, perYear: this.#perYear, confidence: this.#confidence }
  }
}

/**
 * The deposit at the start of each year that pays some cash over the horizon (R2a): Σ cash_k (1+i)^−k over
 * Σ (1+f)^−k (1+i)^−k.
 *
 * @param cash - by year, undiscounted
 * @param interest - after inflation, a year
 * @param falls - f: inflation, where the deposit stays the same in money; else 0
 * @returns a year, in money of the start
 */
export function levelDeposit(cash: ArrayLike<number>, interest: number, falls: number): number {
  let spent = 0
  let paidIn = 0
  for (let year = 0; year < cash.length; year++) {
    const factor = power(1 + interest, -year)
    spent += (cash[year] ?? 0) * factor
    paidIn += power(1 + falls, -year) * factor
  }
  return spent / paidIn
}

/** Updates the largest shortfall of each draw. */
function findMost(most: Float64Array, spent: Float64Array, besides: number): void {
  for (let draw = 0; draw < most.length; draw++) {
    const lacks = (spent[draw] as number) + besides // every draw has its entries
    if (lacks > (most[draw] as number)) most[draw] = lacks
  }
}
