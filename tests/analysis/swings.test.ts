import { describe, expect, test } from 'vitest'
import type { Swing } from '../../src/analysis/results/what-if.ts'
import { swingCosts, swings } from '../../src/analysis/sensitivity/swings.ts'
import { prepare } from '../../src/simulation/run.ts'
import { type Block, failsAt, first, play, put, read, single, weibull, world } from '../worlds.ts'

/** Fails at 4, 8, 12, 16 within 18 years: four times parts 1000, labour 200, call-out 100. */
const worn = (over: Block = {}, optionOver: Block = {}) =>
  single(put({ failure: failsAt(4) }, over), optionOver, 'Worn')
const sound = (optionOver: Block = {}) => single({}, optionOver, 'Sound')
const swingsOf = async (options: readonly Block[], over: Block = {}) =>
  (await play(world(options, put({ horizon_years: 18 }, over)))).swings

describe('S1: swings in worlds computed by hand', () => {
  test('S1: a price at its 10 % and 90 % point, the others at their middle', async () => {
    const options = [
      worn({ replacement: { parts: { low: 500, value: 900, high: 1700 }, labour: { low: 100, high: 400 } } }),
      sound({ upfront_cost: 30_000 }),
    ]
    const found = await swingsOf(options)
    expect(found).toHaveLength(2)
    const [parts, labour] = found
    expect([parts?.low, parts?.high, labour?.low, labour?.high]).toEqual([500, 1700, 100, 400])
    // middle of labour: √(100 · 400) = 200
    expect(parts?.costAtLow).toBeCloseTo(5000 + 4 * (500 + 200 + 100), 6)
    expect(parts?.costAtHigh).toBeCloseTo(5000 + 4 * (1700 + 200 + 100), 6)
    expect(labour?.costAtLow).toBeCloseTo(5000 + 4 * (900 + 100 + 100), 6)
    expect(labour?.costAtHigh).toBeCloseTo(5000 + 4 * (900 + 400 + 100), 6)
    // Sound is second best: the best stays the cheaper while this is above 0
    expect(parts?.differenceAtLow).toBeCloseTo(30_000 - (5000 + 4 * 800), 6)
    expect(parts?.differenceAtHigh).toBeCloseTo(30_000 - (5000 + 4 * 2000), 6)
    expect([parts?.option, labour?.option]).toEqual(['A', 'A'])
  })

  test('S1: an unknown of the second best is shown with its option; one of the site moves both', async () => {
    const options = [
      worn({ replacement: { parts: { low: 500, high: 1700 } } }),
      sound({ yearly_cost: { low: 10, high: 40 } }),
    ]
    const over = { visit: { call_out: { low: 50, high: 200 } } }
    const found = await swingsOf(options, over)
    const [parts, yearly, callOut] = ['A', 'B', null].map(id => found.find(({ option }) => option === id))
    // K2: of equal prices the one listed later comes first: Sound less Worn
    const middleParts = Math.sqrt(500 * 1700)
    const wornCost = (price: number, visit = 100) => 5000 + 4 * (price + 200 + visit)
    expect(parts?.costAtHigh).toBeCloseTo(wornCost(1700), 6)
    expect(parts?.differenceAtHigh).toBeCloseTo(5000 + 18 * 20 - wornCost(1700), 6)
    expect(yearly?.costAtHigh).toBeCloseTo(5000 + 18 * 40, 6)
    expect(yearly?.differenceAtHigh).toBeCloseTo(5000 + 18 * 40 - wornCost(middleParts), 6)
    // of both: the cost shown is that of the best option, which has no visit
    expect([callOut?.costAtLow, callOut?.costAtHigh]).toEqual([5360, 5360].map(cost => expect.closeTo(cost, 6)))
    expect(callOut?.differenceAtLow).toBeCloseTo(5360 - wornCost(middleParts, 50), 6)
  })

  test('S1: the price of energy swings what an outage costs', async () => {
    // 30 days down, four times: 120 kWh
    const options = [worn({ downtime: { respond_days: 30 } }), sound({ upfront_cost: 20_000 })]
    const swing = first(
      await swingsOf(options, {
        horizon_years: 17,
        site: { energy_value: { export_price_per_kwh: { low: 0.5, high: 2 } } },
      }),
    )
    expect(swing.costAtLow).toBeCloseTo(5000 + 5200 + 60, 4)
    expect(swing.costAtHigh).toBeCloseTo(5000 + 5200 + 240, 4)
  })

  test('S1: a life at its bounds: failures before the horizon counted by hand', async () => {
    const failure = {
      shape: 10_000,
      characteristic_life_years: { low: 3.5, value: 5, high: 7 },
      model_spread: 0,
      bad_batch: { chance: 0 },
    }
    const swing = first(await swingsOf([single({ failure })]))
    expect(swing.costAtLow).toBeCloseTo(5000 + 5 * 1300, 6)
    expect(swing.costAtHigh).toBeCloseTo(5000 + 2 * 1300, 6)
    // one option alone: no difference to swing
    expect([swing.differenceAtLow, swing.differenceAtHigh]).toEqual([0, 0])
  })

  test('S1: the multiplier of a model is an unknown as others; while they swing it is 1', async () => {
    const failure = failsAt(4, { model_spread: 0.6 })
    const found = await swingsOf([single({ failure, replacement: { parts: { low: 500, high: 1700 } } })])
    expect(found).toHaveLength(2)
    const [model, parts] = found.toSorted((a, b) => a.input.length - b.input.length).reverse()
    expect(model?.unit).toBe('times the usual failures')
    expect(parts?.costAtLow).toBeCloseTo(5000 + 4 * 800, 6)
    // S3: the picture shows every input that the drivers name, the model too
    expect(model?.input).toContain('is a good product or a bad one')
    // all fail within a thousandth of 4 years, however bad the product
    expect(Math.abs((model?.costAtLow ?? 0) - (model?.costAtHigh ?? 0))).toBeLessThan(5)
  })
})

test('S1: the widest comes first, in the same order whatever the seed', () => {
  const failure = weibull(2, 8)
  const ranged = (name: string, upfront_cost: number) =>
    single(
      {
        failure: put(failure, { characteristic_life_years: { low: 5, high: 13 } }),
        replacement: { parts: { low: 600, high: 1500 }, labour: { low: 150, high: 280 } },
      },
      { upfront_cost },
      name,
    )
  const blocks = world([
    ranged('P', 5000),
    single({ failure }, { upfront_cost: 8000, yearly_cost: { low: 1, high: 3 } }, 'Q'),
  ])
  const width = (swing: Swing) => Math.abs(swing.differenceAtHigh - swing.differenceAtLow)
  const orders = [1, 2, 3, 4].map(seed => {
    const prepared = prepare(read(blocks), seed)
    const costs = [0, 1].map(option => swingCosts(prepared, option, 1000))
    const found = swings(prepared.scenario, costs, 0, 1, 1000)
    const widths = found.map(width)
    expect([...widths].sort((a, b) => b - a)).toEqual(widths)
    return found.map(({ input }) => input)
  })
  expect(orders[0]).toHaveLength(4)
  for (const order of orders) expect(order).toEqual(orders[0])
})
