import type { OptionTerms } from '../../ledger/terms.ts'
import { ResidualLives } from '../../numerics/lives/mean-residual-life.ts'
import { power } from '../../numerics/power.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { OptionDraws } from '../../simulation/sums/sum-layout.ts'
import type { OptionResult, ReserveResult } from '../results/option.ts'
import { walkCash } from './cash-by-year.ts'
import { twoPartReserve } from './two-part-reserve.ts'

/** Shares of the mean cash of the next years that should be ready: next year, the one after, the third. */
export const READY_AHEAD = [1, 0.66, 0.33] as const

/**
 * What to put aside (R1–R3, R2a).
 *
 * @param draws - of the option
 * @param scenario - its reserve terms
 * @param middle - the option with everything at its middle
 * @param meanCash - by year, undiscounted
 * @returns contributions, the risk of being short, and the balance over the years
 */
export function reserveOf(
  draws: OptionDraws,
  scenario: Scenario,
  middle: OptionTerms,
  meanCash: readonly number[],
): { reserve: ReserveResult; balanceByYear: OptionResult['balanceByYear'] } {
  const { confidence, inflation, opening } = scenario.reserve
  const levels = [0.5, 0.8, 0.9, confidence]
  const [c50 = 0, c80 = 0, c90 = 0, contribution = 0] = quantiles(draws.need, levels)
  const [m50 = 0, m80 = 0, m90 = 0, inMoney = 0] = inflation === null ? [] : quantiles(draws.needInMoney, levels)
  const { short, balanceByYear } = rollBalance(draws, scenario, contribution)
  const fullyFundedBalance = fullyFunded(middle)
  return {
    reserve: {
      confidence,
      contributionAt: { '50': c50, '80': c80, '90': c90 },
      contributionPerYear: contribution,
      contributionPerMonth: contribution / 12,
      ...short,
      fullyFundedBalance,
      percentFunded: fullyFundedBalance === 0 ? null : (100 * opening) / fullyFundedBalance,
      readyAhead: meanCash.map((_, year) =>
        READY_AHEAD.reduce((sum, share, i) => sum + share * (meanCash[year + 1 + i] ?? 0), 0),
      ),
      fixedInMoney:
        inflation === null
          ? null
          : {
              '50': m50,
              '80': m80,
              '90': m90,
              contributionPerYear: inMoney,
              twoPart: twoPartReserve(draws, scenario, meanCash, m50, true),
            },
      twoPart: twoPartReserve(draws, scenario, meanCash, c50, false),
    },
    balanceByYear,
  }
}

/**
 * B_y = B_{y−1}(1+i) + contribution − cash_y; the opening balance is there at the first deposit (R2, R3). Discounted,
 * it is what was paid in less what was spent, so its low percentiles are the high ones of what was spent.
 */
function rollBalance(
  draws: OptionDraws,
  scenario: Scenario,
  contribution: number,
): {
  short: Pick<ReserveResult, 'chanceShort' | 'meanShortfall' | 'firstShortYear'>
  balanceByYear: OptionResult['balanceByYear']
} {
  const { interest, opening } = scenario.reserve
  const deepest = new Float64Array(draws.draws)
  const firstShort = new Float64Array(draws.draws).fill(-1)
  const balanceByYear = { p10: [] as number[], p50: [] as number[], p90: [] as number[] }
  // the contribution is itself the need of a draw: rounding must not count that draw as short
  const rounding = 1e-9 * (1 + contribution * scenario.horizonYears)
  let paidIn = opening
  walkCash(draws, scenario.horizonYears, interest, (year, sums, besides) => {
    const growth = power(1 + interest, year)
    paidIn += contribution / growth
    const left = paidIn - besides
    markShort(sums.sums, year, left, growth, -rounding, firstShort, deepest)
    const [p90 = 0, p50 = 0, p10 = 0] = sums.quantiles([0.1, 0.5, 0.9])
    balanceByYear.p10.push((left - p10) * growth)
    balanceByYear.p50.push((left - p50) * growth)
    balanceByYear.p90.push((left - p90) * growth)
  })
  const years = firstShort.filter(year => year >= 0)
  const shortfall = deepest.reduce((sum, value) => sum - value, 0)
  return {
    short: {
      chanceShort: years.length / draws.draws,
      meanShortfall: years.length === 0 ? 0 : shortfall / years.length,
      firstShortYear: years.length === 0 ? null : (quantiles(years, [0.5])[0] ?? null),
    },
    balanceByYear,
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

/** Σ units (parts + labour + call-out) × min(1, age / mean life) (R3); units that need no visit have no labour and call-out. */
function fullyFunded(terms: OptionTerms): number {
  let sum = 0
  for (const unit of terms.units) {
    if (unit.ageYears === 0) continue
    const each = unit.parts + (unit.needsVisit ? unit.labour + terms.callOut : 0)
    sum += unit.count * each * Math.min(1, unit.ageYears / new ResidualLives(unit.modes).at(0))
  }
  return sum
}
