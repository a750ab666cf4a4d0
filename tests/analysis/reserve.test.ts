import { describe, expect, test } from 'vitest'
import reference from '../reference/reserve.json' with { type: 'json' }
import { type Block, first, playOptions, put, single, weibull, world } from '../worlds.ts'

const only = async (...from: Parameters<typeof playOptions>) => first((await playOptions(...from)).options)
/** Swapped at 5 and 10 for 1000 + 200 + 100; 40 a year in addition. */
const SWAPS = world([single({ replace_at_age_years: 5 }, { yearly_cost: 40 })], { horizon_years: 12 })
const CASH = Array.from({ length: 12 }, (_, year) => 40 + (year === 5 || year === 10 ? 1300 : 0))
const CHANCE = world([single({ failure: weibull(2, 9) })])

/** R2 by its words: the largest, over the years, of what was spent less what was there, over what a deposit of 1 makes. */
function need(interest: number, opening: number, inflation = 0): number {
  let most = 0
  for (let y = 0; y < CASH.length; y++) {
    let spent = -opening
    let deposits = 0
    for (let k = 0; k <= y; k++) {
      spent += (CASH[k] ?? 0) * (1 + interest) ** -k
      deposits += (1 + interest) ** -k * (1 + inflation) ** -k
    }
    most = Math.max(most, spent / deposits)
  }
  return most
}

describe('reserve', () => {
  test('R1: cash is repairs and yearly cost by year, undiscounted; not the purchase, not lost energy', async () => {
    const { cashByYear, largestYear, outOfPocket } = await only(put(SWAPS, { discount_rate: 0.05 }))
    expect(cashByYear.mean).toEqual(CASH)
    expect(largestYear).toEqual({ p50: 1340, p90: 1340, standardErrors: { p50: 0, p90: 0 } })
    const paid = CASH.reduce((sum, _, year) => sum + 40 * 1.05 ** -(year + 0.5), 1300 * (1.05 ** -5 + 1.05 ** -10))
    expect(outOfPocket.mean).toBeCloseTo(paid, 8)
  })

  test.each([
    [0, 0],
    [0.03, 0],
    [0.03, 500],
    [-0.01, 100],
    [0.02, 20000],
  ])('R2: interest %d, opening %d: the contribution of the closed form', async (interest, opening) => {
    const { reserve } = await only(put(SWAPS, { reserve: { interest, opening } }))
    expect(reserve.contributionPerYear).toBeCloseTo(need(interest, opening), 8)
    expect(reserve.contributionPerMonth).toBeCloseTo(need(interest, opening) / 12, 8)
    expect(reserve.fixedInMoney).toBeNull()
    expect(reserve.chanceShort).toBe(0)
    expect(reserve.firstShortYear).toBeNull()
  })

  test('R2: with inflation a second table gives a deposit fixed in money', async () => {
    const { reserve } = await only(put(SWAPS, { reserve: { interest: 0.01, inflation: 0.025 } }))
    expect(reserve.contributionPerYear).toBeCloseTo(need(0.01, 0), 8)
    expect(reserve.fixedInMoney?.contributionPerYear).toBeCloseTo(need(0.01, 0, 0.025), 8)
  })

  test('R3: balances roll forward; money to have ready is 100, 66 and 33 % of the next three years', async () => {
    const [interest, opening] = [0.03, 300]
    const { reserve, balanceByYear, cumulativeCash } = await only(put(SWAPS, { reserve: { interest, opening } }))
    let balance = opening
    const rolled = CASH.map((cash, year) => {
      balance = balance * (year === 0 ? 1 : 1 + interest) + reserve.contributionPerYear - cash
      return balance
    })
    balanceByYear.p50.forEach((p50, year) => {
      expect(p50).toBeCloseTo(rolled[year] ?? 0, 7)
    })
    expect(Math.min(...rolled)).toBeCloseTo(0, 7)
    expect(reserve.readyAhead[2]).toBeCloseTo(40 + 0.66 * 40 + 0.33 * 1340, 9)
    expect(reserve.readyAhead[10]).toBeCloseTo(40, 9)
    let sum = 0
    expect(cumulativeCash.p95).toEqual(CASH.map(cash => (sum += cash)))
  })

  test.each(reference.cases.filter(row => row.effective_age_years > 0))(
    'R3: fully funded balance of $current_replacement_cost at age $effective_age_years of $useful_life_years (READ and COMPUTED)',
    async row => {
      const one = single({
        age_years: row.effective_age_years,
        failure: { shape: 3, mean_life_years: row.useful_life_years, model_spread: 0, bad_batch: { chance: 0 } },
        replacement: { parts: row.current_replacement_cost - 300 },
      })
      const { reserve } = await only(world([one], { reserve: { opening: row.balance_now } }))
      expect(reserve.fullyFundedBalance).toBeCloseTo(row.fully_funded_balance_current_cost, 2)
      expect(reserve.percentFunded).toBeCloseTo(row.percent_funded ?? 0, 4)
    },
  )

  test('N4: with nothing to fund percent funded is null', async () => {
    expect((await only(SWAPS)).reserve.percentFunded).toBeNull()
  })

  test('R2, R3: the contribution is enough with the confidence; more confidence never needs less', async () => {
    let before = 0
    for (const confidence of [0.5, 0.6, 0.75, 0.9, 0.99]) {
      const { reserve } = await only(put(CHANCE, { reserve: { confidence } }), { draws: 400 })
      expect(reserve.contributionPerYear).toBeGreaterThanOrEqual(before)
      before = reserve.contributionPerYear
      expect(reserve.chanceShort).toBeLessThanOrEqual(1 - confidence + 1 / 400)
      expect(reserve.chanceShort).toBeGreaterThan(1 - confidence - 0.12)
      const { contributionAt: at } = reserve
      expect(at['50'] <= at['80'] && at['80'] <= at['90']).toBe(true)
    }
  })

  test('R3: shortfall is the deepest deficit of the draws that are short; the year is the median first one', async () => {
    // with opening money for nearly all: half of the draws are short by one swap at most
    const blocks: Block = put(CHANCE, { reserve: { confidence: 0.5 } })
    const { reserve } = await only(blocks, { draws: 400 })
    expect(reserve.meanShortfall).toBeGreaterThan(0)
    expect(reserve.firstShortYear).toBeGreaterThan(0)
    expect(reserve.firstShortYear).toBeLessThan(20)
  })

  test('the largest bill of years 10 to 15', async () => {
    expect((await only(SWAPS)).billYears10To15.p90).toBe(1340)
  })
})
