import { power } from '../../numerics/power.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import type { RunningSums } from '../../numerics/samples/running-sums.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { ReserveResult } from '../results/option.ts'
import type { CashFinding } from './cash-by-year.ts'

/** How often and how deep the reserve is short. */
export type Shortfalls = Pick<ReserveResult, 'chanceShort' | 'meanShortfall' | 'firstShortYear'>

/**
 * B_y = B_{y−1}(1+i) + contribution − cash_y; the opening balance is there at the first deposit (R2, R3). Discounted,
 * it is what was paid in less what was spent, so its low percentiles are the high ones of what was spent. Found on a
 * walk at the interest of the reserve.
 */
export class BalanceWalk implements CashFinding {
  readonly byYear = { p10: [] as number[], p50: [] as number[], p90: [] as number[] }
  readonly #interest: number
  readonly #contribution: number
  /** The contribution is itself the need of a draw: rounding must not count that draw as short. */
  readonly #rounding: number
  readonly #deepest: Float64Array
  readonly #firstShort: Float64Array
  #paidIn: number

  /**
   * @param draws - how many
   * @param scenario - horizon and terms of the reserve
   * @param contribution - a year
   */
  constructor(draws: number, { horizonYears, reserve }: Scenario, contribution: number) {
    this.#interest = reserve.interest
    this.#contribution = contribution
    this.#rounding = 1e-9 * (1 + contribution * horizonYears)
    this.#deepest = new Float64Array(draws)
    this.#firstShort = new Float64Array(draws).fill(-1)
    this.#paidIn = reserve.opening
  }

  enter(year: number, sums: RunningSums, besides: number): void {
    const growth = power(1 + this.#interest, year)
    this.#paidIn += this.#contribution / growth
    const left = this.#paidIn - besides
    markShort(sums.sums, year, left, growth, -this.#rounding, this.#firstShort, this.#deepest)
    const [p90 = 0, p50 = 0, p10 = 0] = sums.quantiles([0.1, 0.5, 0.9])
    this.byYear.p10.push((left - p10) * growth)
    this.byYear.p50.push((left - p50) * growth)
    this.byYear.p90.push((left - p90) * growth)
  }

  /** After the walk. */
  get short(): Shortfalls {
    const years = this.#firstShort.filter(year => year >= 0)
    const shortfall = this.#deepest.reduce((sum, value) => sum - value, 0)
    return {
      chanceShort: years.length / this.#deepest.length,
      meanShortfall: years.length === 0 ? 0 : shortfall / years.length,
      firstShortYear: years.length === 0 ? null : (quantiles(years, [0.5])[0] ?? null),
    }
  }
}

/** Marks the draws whose balance is short, with their lowest balance. */
function markShort(
  spent: Float64Array,
  year: number,
  paidIn: number,
  growth: number,
  least: number,
  firstShort: Float64Array,
  deepest: Float64Array,
): void {
  const most = paidIn - least / growth
  for (let draw = 0; draw < spent.length; draw++) {
    const sum = spent[draw] as number // every draw has its entries
    if (sum <= most) continue
    const left = (paidIn - sum) * growth
    if ((firstShort[draw] as number) < 0) firstShort[draw] = year
    if (left < (deepest[draw] as number)) deepest[draw] = left
  }
}
