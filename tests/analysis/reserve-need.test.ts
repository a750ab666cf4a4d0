import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { reserveOf } from '../../src/analysis/reserve/reserve.ts'
import { DRAWS_PER_BLOCK, middleSet } from '../../src/simulation/parameter-sets.ts'
import { BlockPlayer, blockTasks, planOf, prepare } from '../../src/simulation/run.ts'
import { ReserveFactors } from '../../src/simulation/sums/reserve-need.ts'
import { mergeBlocks } from '../simulation/merged.ts'
import { meanOf, read, single, weibull, world } from '../worlds.ts'

/** Lowest balance of a lifetime: each year interest, the deposit, then the year's cash. */
function lowest(cash: readonly number[], deposit: (year: number) => number, interest: number, opening: number): number {
  let balance = opening
  let least = Infinity
  cash.forEach((spent, year) => {
    balance = balance * (year === 0 ? 1 : 1 + interest) + deposit(year) - spent
    least = Math.min(least, balance)
  })
  return least
}

/** The least deposit with which the balance never falls below 0, by halving. */
function leastDeposit(cash: readonly number[], interest: number, opening: number, inflation = 0): number {
  const enough = (deposit: number) => lowest(cash, year => deposit * (1 + inflation) ** -year, interest, opening) >= 0
  if (enough(0)) return 0
  let [short, plenty] = [0, 1e7]
  for (let step = 0; step < 90; step++) {
    const middle = (short + plenty) / 2
    if (enough(middle)) plenty = middle
    else short = middle
  }
  return plenty
}

/** Type 7 quantile. */
function quantile(values: readonly number[], p: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  const place = p * (sorted.length - 1)
  const low = sorted[Math.floor(place)] ?? Number.NaN
  return low + (place % 1) * ((sorted[Math.floor(place) + 1] ?? low) - low)
}

const YEARS = 20
const TERMS = { interest: 0.02, opening: 150, confidence: 0.8, inflation: 0.025 }
const SCENARIO = read(
  world([single({ failure: weibull(2, 9), warranty: { years: 5 } }, { yearly_cost: 20 })], { reserve: TERMS }),
)
const PLAN = planOf(prepare(SCENARIO, 4), 0)
const DRAWS = mergeBlocks(
  blockTasks(0, 600, false).map(task => new BlockPlayer([prepare(SCENARIO, 4)]).play(task)),
  true,
)
/** Draws × years. */
const CASH = (() => {
  const cash = Array.from({ length: DRAWS.draws }, () => new Array<number>(YEARS).fill(DRAWS.yearlyCost[0] ?? 0))
  DRAWS.payments.forEach(({ draw, amount, firstOfYear }, block) => {
    for (let year = 0; year < YEARS; year++) {
      for (let i = firstOfYear[year] ?? 0; i < (firstOfYear[year + 1] ?? 0); i++) {
        const row = cash[DRAWS_PER_BLOCK * block + (draw[i] ?? 0)]
        if (row !== undefined) row[year] = (row[year] ?? 0) + (amount[i] ?? 0)
      }
    }
  })
  return cash
})()
const MEAN_CASH = Array.from({ length: YEARS }, (_, year) => meanOf(CASH.map(row => row[year] ?? 0)))
const { terms: MIDDLE } = PLAN.at(middleSet(SCENARIO.unknowns.length))

describe('R2: what a lifetime needs', () => {
  test('R2: is the least deposit that never runs short, for any cash, interest, opening and inflation', () => {
    const cash = fc.array(fc.oneof(fc.constant(0), fc.double({ min: 0, max: 5000, noNaN: true })), {
      minLength: 1,
      maxLength: 40,
    })
    const rate = fc.double({ min: -0.03, max: 0.08, noNaN: true })
    const money = fc.double({ min: 0, max: 4000, noNaN: true })
    fc.assert(
      fc.property(cash, rate, money, rate, (spent, interest, opening, inflation) => {
        const factors = new ReserveFactors({ interest, opening, inflation }, spent.length)
        const column = Float64Array.from(spent)
        expect(factors.need(column)).toBeCloseTo(leastDeposit(spent, interest, opening), 5)
        expect(factors.need(column, true)).toBeCloseTo(leastDeposit(spent, interest, opening, inflation), 5)
      }),
      { seed: 1, numRuns: 300 },
    )
  })

  test('R2: more cash in any year never needs less; more at the opening never more', () => {
    const cash = fc.array(fc.double({ min: 0, max: 5000, noNaN: true }), { minLength: 1, maxLength: 25 })
    fc.assert(
      fc.property(cash, fc.nat(), fc.double({ min: 0, max: 900, noNaN: true }), (spent, at, more) => {
        const need = (column: readonly number[], opening: number) =>
          new ReserveFactors({ interest: 0.02, opening, inflation: null }, column.length).need(
            Float64Array.from(column),
          )
        const dearer = spent.map((value, year) => (year === at % spent.length ? value + more : value))
        expect(need(dearer, 100)).toBeGreaterThanOrEqual(need(spent, 100))
        expect(need(spent, 100 + more)).toBeLessThanOrEqual(need(spent, 100))
      }),
      { seed: 2, numRuns: 300 },
    )
  })
})

describe('R2, R3: contributions and risk by brute force', () => {
  const { reserve, balanceByYear } = reserveOf(DRAWS, SCENARIO, MIDDLE, MEAN_CASH)
  const needs = CASH.map(row => leastDeposit(row, TERMS.interest, TERMS.opening))

  test('R1: lives differ, and the cash of each is a whole number of repairs and the yearly cost', () => {
    expect(new Set(needs).size).toBeGreaterThan(50)
    // 1300 a repair by the owner, 300 under cover, 20 a year
    for (const row of CASH) for (const spent of row) expect((spent - 20) % 100).toBeCloseTo(0, 9)
  })

  test('R2: the contribution is the quantile of the needs, fixed in money too', () => {
    for (const [level, p] of [
      ['50', 0.5],
      ['80', 0.8],
      ['90', 0.9],
    ] as const) {
      expect(reserve.contributionAt[level]).toBeCloseTo(quantile(needs, p), 5)
      const inMoney = CASH.map(row => leastDeposit(row, TERMS.interest, TERMS.opening, TERMS.inflation))
      expect(reserve.fixedInMoney?.[level]).toBeCloseTo(quantile(inMoney, p), 5)
    }
    expect(reserve.contributionPerYear).toBe(reserve.contributionAt['80'])
  })

  test('R3: chance of being short, mean shortfall, first short year, and the balance fan', () => {
    const deposit = reserve.contributionPerYear
    const low = CASH.map(row => lowest(row, () => deposit, TERMS.interest, TERMS.opening)).map(least =>
      least < -1e-6 ? least : 0,
    )
    const short = low.filter(least => least < 0)
    expect(reserve.chanceShort).toBeCloseTo(short.length / CASH.length, 12)
    expect(reserve.meanShortfall).toBeCloseTo(-meanOf(short), 6)
    const balances = CASH.map(row => {
      let balance = TERMS.opening
      return row.map((spent, year) => (balance = balance * (year === 0 ? 1 : 1 + TERMS.interest) + deposit - spent))
    })
    const firstShort = balances.map(row => row.findIndex(balance => balance < -1e-6)).filter(year => year >= 0)
    expect(reserve.firstShortYear).toBe(quantile(firstShort, 0.5))
    for (let year = 0; year < YEARS; year++) {
      const column = balances.map(row => row[year] ?? 0)
      expect(balanceByYear.p10[year]).toBeCloseTo(quantile(column, 0.1), 6)
      expect(balanceByYear.p50[year]).toBeCloseTo(quantile(column, 0.5), 6)
      expect(balanceByYear.p90[year]).toBeCloseTo(quantile(column, 0.9), 6)
    }
  })

  test('R2: higher confidence never lowers the contribution, nor raises the chance of being short', () => {
    const at = (confidence: number) =>
      reserveOf(DRAWS, { ...SCENARIO, reserve: { ...TERMS, confidence } }, MIDDLE, MEAN_CASH).reserve
    const confidence = fc.double({ min: 0.5, max: 0.99, noNaN: true })
    fc.assert(
      fc.property(confidence, confidence, (one, other) => {
        const [lower, higher] = [at(Math.min(one, other)), at(Math.max(one, other))]
        expect(higher.contributionPerYear).toBeGreaterThanOrEqual(lower.contributionPerYear)
        expect(higher.chanceShort).toBeLessThanOrEqual(lower.chanceShort)
        // the quantile lies between two draws: no more are short than one over the share left
        expect(higher.chanceShort).toBeLessThanOrEqual(1 - Math.max(one, other) + 1 / CASH.length)
      }),
      { seed: 3, numRuns: 40 },
    )
  })
})
