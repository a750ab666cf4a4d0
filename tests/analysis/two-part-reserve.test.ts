import fc from 'fast-check'
import { expect, test } from 'vitest'
import { walkCash } from '../../src/analysis/reserve/cash-by-year.ts'
import { TwoPartWalk } from '../../src/analysis/reserve/two-part-reserve.ts'
import { quantiles } from '../../src/numerics/samples/quantile.ts'
import { Payments } from '../../src/simulation/sums/payments.ts'
import { emptyDraws } from '../../src/simulation/sums/sum-layout.ts'
import { first, playOptions, read, single, unit, world } from '../worlds.ts'

const DRAWS = 40

/** Whether a draw stays solvent: deposit, then the year's bills, at the start of each year. */
function solvent(cash: readonly number[], ready: number, deposits: readonly number[], interest: number): boolean {
  let balance = ready
  return cash.every((bill, year) => {
    balance = balance * (year === 0 ? 1 : 1 + interest) + (deposits[year] ?? 0) - bill
    return balance >= -1e-6
  })
}

test('R2a: the deposit pays the mean cash over the horizon, and the sum ready is the least that keeps the draws solvent', () => {
  const bills = fc.array(
    fc.array(fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 3000 })), { minLength: 6, maxLength: 6 }),
    {
      minLength: DRAWS,
      maxLength: DRAWS,
    },
  )
  const terms = fc.record({
    interest: fc.double({ min: 0, max: 0.05, noNaN: true }),
    inflation: fc.double({ min: 0, max: 0.08, noNaN: true }),
    confidence: fc.constantFrom(0.5, 0.8, 0.9),
    fixed: fc.boolean(),
  })
  fc.assert(
    fc.property(bills, terms, (all, { interest, inflation, confidence, fixed }) => {
      const scenario = read(
        world([single()], { horizon_years: 6, reserve: { interest, inflation, confidence, opening: 0 } }),
      )
      const payments = new Payments()
      all.forEach((cash, draw) => {
        cash.forEach((bill, year) => {
          if (bill > 0) payments.add(draw, year, bill)
        })
      })
      const draws = emptyDraws(DRAWS, 1, 1, 6, true, [payments.take(6)])
      const mean = Array.from({ length: 6 }, (_, year) => all.reduce((sum, cash) => sum + (cash[year] ?? 0), 0) / DRAWS)
      const twoPart = new TwoPartWalk(DRAWS, scenario.reserve, mean, 0, fixed)
      walkCash(draws, 6, interest, [twoPart])
      const { ready, perYear } = twoPart.found
      const deposits = mean.map((_, year) => perYear * (fixed ? (1 + inflation) ** -year : 1))
      // the mean cash is paid to the last cent by the deposits
      const worth = (flow: readonly number[]): number =>
        flow.reduce((sum, amount, year) => sum + amount * (1 + interest) ** -year, 0)
      expect(worth(deposits)).toBeCloseTo(worth(mean), 4)
      // brute force: the least sum of each draw by halving, then the rank that belongs to the confidence
      const least = all.map(cash => {
        if (solvent(cash, 0, deposits, interest)) return 0
        let [low, high] = [0, 1e5]
        while (high - low > 1e-5) {
          const middle = (low + high) / 2
          if (solvent(cash, middle, deposits, interest)) high = middle
          else low = middle
        }
        return high
      })
      expect(Math.abs(ready - (quantiles(Float64Array.from(least), [confidence])[0] ?? 0))).toBeLessThan(1e-3)
    }),
    { numRuns: 60, seed: 12 },
  )
})

test('R2a: never less than what is enough in half of the lifetimes', () => {
  const scenario = read(world([single()], { horizon_years: 4 }))
  expect(new TwoPartWalk(20, scenario.reserve, [0, 0, 0, 0], 75, false).found.perYear).toBe(75)
})

test('R2a: one bill of 1,300 in year 6 of 20, known: 1,300/20 a year would do in the end; half the lifetimes need 1,300/7', async () => {
  const blocks = world(
    [single({ failure: { ...(unit('string-inverter').failure as object), characteristic_life_years: 6.5 } })],
    {
      horizon_years: 12,
    },
  )
  const { reserve } = first((await playOptions(blocks)).options)
  expect(reserve.twoPart.perYear).toBeCloseTo(1300 / 7, 6)
  expect(reserve.twoPart.ready).toBeCloseTo(0, 6)
})
