import { power } from '../../numerics/power.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { OptionDraws } from '../../simulation/sums/sum-layout.ts'
import type { TwoPartReserve } from '../results/option.ts'
import { walkCash } from './cash-by-year.ts'

/**
 * What to have ready at the start and what to put aside each year (R2a): the deposit that pays the mean cash over the
 * horizon, and the smallest sum at the start, the opening balance included, with which the lifetimes stay solvent.
 *
 * @param draws - of the option
 * @param scenario - its reserve terms
 * @param meanCash - by year, undiscounted
 * @param median - deposit that is enough in half of the lifetimes (R2), the least deposit
 * @param fixedInMoney - whether the deposit stays the same in money, and so falls with inflation
 */
export function twoPartReserve(
  draws: OptionDraws,
  scenario: Scenario,
  meanCash: readonly number[],
  median: number,
  fixedInMoney: boolean,
): TwoPartReserve {
  const { interest, confidence, inflation } = scenario.reserve
  const years = scenario.horizonYears
  const falls = fixedInMoney ? (inflation ?? 0) : 0
  const factor = (year: number): number => power(1 + interest, -year)
  const deposit = (year: number): number => power(1 + falls, -year)
  const perYear = Math.max(levelDeposit(meanCash, interest, falls), median)
  const ready = new Float64Array(draws.draws)
  let covered = 0
  walkCash(draws, years, interest, (year, sums, besides) => {
    covered += perYear * deposit(year) * factor(year)
    findMost(ready, sums.sums, besides - covered)
  })
  return { ready: quantiles(ready, [confidence])[0] ?? 0, perYear, confidence }
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
