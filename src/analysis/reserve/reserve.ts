import type { OptionTerms } from '../../ledger/terms.ts'
import { ResidualLives } from '../../numerics/lives/mean-residual-life.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { OptionDraws } from '../../simulation/sums/sum-layout.ts'
import type { OptionResult, ReserveResult } from '../results/option.ts'
import { BalanceWalk } from './balance.ts'
import { CashPercentiles, type CumulativeCash, walkCash } from './cash-by-year.ts'
import { TwoPartWalk } from './two-part-reserve.ts'

/** Shares of the mean cash of the next years that should be ready: next year, the one after, the third. */
export const READY_AHEAD = [1, 0.66, 0.33] as const

/** What to put aside, and the cash and the balance of the reserve over the years. */
export interface Reserve {
  readonly reserve: ReserveResult
  readonly cumulativeCash: CumulativeCash
  readonly balanceByYear: OptionResult['balanceByYear']
}

/**
 * What to put aside (R1–R3, R2a).
 *
 * @param draws - of the option
 * @param scenario - its reserve terms
 * @param middle - the option with everything at its middle
 * @param meanCash - by year, undiscounted
 */
export function reserveOf(
  draws: OptionDraws,
  scenario: Scenario,
  middle: OptionTerms,
  meanCash: readonly number[],
): Reserve {
  const { confidence, inflation, opening, interest } = scenario.reserve
  const levels = [0.5, 0.8, 0.9, confidence]
  const [c50 = 0, c80 = 0, c90 = 0, contribution = 0] = quantiles(draws.need, levels)
  const [m50 = 0, m80 = 0, m90 = 0, inMoney = 0] = inflation === null ? [] : quantiles(draws.needInMoney, levels)
  const cash = new CashPercentiles()
  const balance = new BalanceWalk(draws.draws, scenario, contribution)
  const twoPart = new TwoPartWalk(draws.draws, scenario.reserve, meanCash, c50, false)
  const twoPartInMoney = inflation === null ? null : new TwoPartWalk(draws.draws, scenario.reserve, meanCash, m50, true)
  const atInterest = [balance, twoPart, ...(twoPartInMoney === null ? [] : [twoPartInMoney])]
  // without interest one walk finds all
  walkCash(draws, scenario.horizonYears, interest, interest === 0 ? [cash, ...atInterest] : atInterest)
  if (interest !== 0) walkCash(draws, scenario.horizonYears, 0, [cash])
  const fullyFundedBalance = fullyFunded(middle)
  return {
    reserve: {
      confidence,
      contributionAt: { '50': c50, '80': c80, '90': c90 },
      contributionPerYear: contribution,
      contributionPerMonth: contribution / 12,
      ...balance.short,
      fullyFundedBalance,
      percentFunded: fullyFundedBalance === 0 ? null : (100 * opening) / fullyFundedBalance,
      readyAhead: meanCash.map((_, year) =>
        READY_AHEAD.reduce((sum, share, i) => sum + share * (meanCash[year + 1 + i] ?? 0), 0),
      ),
      fixedInMoney:
        twoPartInMoney === null
          ? null
          : {
              '50': m50,
              '80': m80,
              '90': m90,
              contributionPerYear: inMoney,
              twoPart: twoPartInMoney.found,
            },
      twoPart: twoPart.found,
    },
    cumulativeCash: cash.found,
    balanceByYear: balance.byYear,
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
