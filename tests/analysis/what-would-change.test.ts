import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import {
  type Block,
  failsAt,
  first,
  livesOf,
  meanOf,
  option,
  play,
  put,
  single,
  unit,
  weibull,
  world,
} from '../worlds.ts'

/** Fails at 4, 8, 12, 16 for 1000 + 200 + 100; the other never, for 5000 more at the start. */
const TWO = world(
  [
    single({ failure: failsAt(4), warranty: { replacement_cover: 'remaining' } }, {}, 'Cheap'),
    single({}, { upfront_cost: 10_000 }, 'Dear'),
  ],
  { horizon_years: 18 },
)

const pointOf = (results: Results, words: string, option: string | null = null) => {
  const point = results.switchPoints.find(one => one.input.startsWith(words) && one.option === option)
  if (point === undefined)
    throw new Error(`no switch point of ${words}: ${results.switchPoints.map(p => p.input).join(', ')}`)
  return point
}

describe('S2: where the order of the two best changes', () => {
  test('each by hand in a world without chance; a run at the point finds no difference', async () => {
    const results = await play(TWO)
    // cheap: 5000 + 4 · 1300 = 10200 against 10000
    const labour = pointOf(results, 'labour', 'A')
    expect(labour.value).toBeCloseTo(150, 6)
    expect(labour.differenceThere).toBeCloseTo(0, 6)
    expect([labour.present, labour.low, labour.high]).toEqual([200, expect.closeTo(200 / 3, 9), 600])
    expect(pointOf(results, 'call-out').value).toBeCloseTo(50, 6)
    // in whole years; half of the units fail a hair before 4, and a fifth of the parts of one failure is enough
    expect(pointOf(results, 'parts warranty', 'A').value).toBe(4)
    expect(pointOf(results, 'parts warranty', 'B').value).toBeNull()
    // three failures instead of four, once the fourth falls beyond 18
    const life = pointOf(results, 'characteristic life', 'A')
    expect(life.value).toBeGreaterThan(4.4)
    expect(life.value).toBeLessThan(4.6)
    const energy = pointOf(results, 'price of energy')
    expect([energy.value, energy.differenceThere, energy.standardError]).toEqual([null, null, null])
  })

  test('the discount rate, compared with a bisection over the dates', async () => {
    const results = await play(TWO)
    const returns = livesOf(TWO, 20).map(({ rows }) => rows.map(row => row.returnedAt))
    const gap = (rate: number) =>
      meanOf(returns.map(at => at.reduce((sum, t) => sum + 1300 * (1 + rate) ** -t, 0))) - 5000
    let [low, high] = [0, 0.05]
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2
      if (gap(middle) > 0) low = middle
      else high = middle
    }
    const point = pointOf(results, 'discount rate')
    expect([point.low, point.high]).toEqual([-0.05, 0.05])
    // the search ends within a thousandth of the gap of its ends
    expect(Math.abs((point.value ?? 0) - low)).toBeLessThan(2e-5)
  })

  test('none within the range', async () => {
    const apart = put(TWO, { options: [single({}, {}, 'Cheap'), single({}, { upfront_cost: 90_000 }, 'Dear')] })
    const results = await play(apart)
    expect(results.switchPoints.length).toBeGreaterThan(5)
    expect(results.switchPoints.every(point => point.value === null)).toBe(true)
  })
})

describe('S1, S3: swings and drivers', () => {
  const ranged = world([
    single(
      { failure: weibull(2, 9), replacement: { parts: { low: 800, high: 1600 }, labour: { low: 190, high: 230 } } },
      {},
      'A',
    ),
    single(
      { failure: weibull(2, 14), replacement: { parts: 1100 } },
      { upfront_cost: 5400, yearly_cost: { low: 10, high: 30 } },
      'B',
    ),
  ])

  test('S1: each ± input at its 10 % and 90 % point, the others at the middle', async () => {
    const fixed = world(
      [
        single(
          { failure: failsAt(4), replacement: { parts: { low: 800, high: 1800 } } },
          { yearly_cost: { low: 10, high: 40 } },
          'A',
        ),
        single({}, { upfront_cost: 10_000 }, 'B'),
      ],
      { horizon_years: 18 },
    )
    const { swings } = await play(fixed)
    expect(swings).toHaveLength(2)
    const [parts, yearly] = swings
    const cost = (partsPrice: number, perYear: number) => 5000 + 4 * (partsPrice + 300) + 18 * perYear
    expect([parts?.costAtLow, parts?.costAtHigh]).toEqual([
      expect.closeTo(cost(800, 20), 6),
      expect.closeTo(cost(1800, 20), 6),
    ])
    expect([yearly?.costAtLow, yearly?.costAtHigh]).toEqual([
      expect.closeTo(cost(1200, 10), 6),
      expect.closeTo(cost(1200, 40), 6),
    ])
    // second less best: the order of the two at the middle of the ranges
    expect(Math.abs((parts?.differenceAtHigh ?? 0) - (parts?.differenceAtLow ?? 0))).toBeCloseTo(4000, 6)
  })

  test('S1: the order of swings does not depend on the seed', async () => {
    const order = async (seed: number) => (await play(ranged, { draws: 600, seed })).swings.map(swing => swing.input)
    const once = await order(1)
    expect(once).toHaveLength(3)
    for (const seed of [2, 3, 4]) expect(await order(seed)).toEqual(once)
  })

  test('S3: shares of the inputs that drive the difference, largest first, the rest as others; they make 1', async () => {
    const { drivers } = await play(ranged, { draws: 4000 })
    expect(first(drivers).input).toMatch(/parts/)
    expect(first(drivers).share).toBeGreaterThan(0.8)
    expect(drivers.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 1)
    expect(drivers.filter(({ input }) => input !== 'others').every(({ share }) => share >= 0.05)).toBe(true)
  })
})

describe('policies', () => {
  test('M6: ageing units with dear failures are best swapped early; constant hazard is run to failure', async () => {
    const lossy: Block = { downtime: { respond_days: 200 } }
    const site = { energy_value: { export_price_per_kwh: 40 } }
    const ageing = await play(world([single({ failure: weibull(6, 9), ...lossy })], { site }), { draws: 1000 })
    const { replacementAge } = first(ageing.options)
    expect(replacementAge?.best).not.toBeNull()
    expect(replacementAge?.best).toBeLessThan(9)
    expect(replacementAge?.gain).toBeGreaterThan(2 * (replacementAge?.standardError ?? Infinity))
    const constant = await play(world([single({ failure: weibull(1, 9), ...lossy })], { site }), { draws: 1000 })
    expect(first(constant.options).replacementAge?.best).toBeNull()
    expect(first(constant.options).replacementAge?.gain).toBe(0)
  })

  test('O3: with dear visits and cheap energy waiting pays; one failed unit costs its share of a year', async () => {
    const panels = option('P', 'panel-level', [unit('panel-level-unit', { count: 10, failure: weibull(1, 15) })])
    const { options } = await play(world([panels], { visit: { call_out: 900 } }), { draws: 400 })
    const { waitingPolicy } = first(options)
    expect(waitingPolicy?.best.waitForUnits).toBeGreaterThan(1)
    expect(waitingPolicy?.saves).toBeGreaterThan(0)
    expect(waitingPolicy?.oneUnitYear.kwh).toBeCloseTo(36.5, 9)
    expect(waitingPolicy?.oneUnitYear.value).toBeCloseTo(36.5, 9)
    const single10 = first((await play(world([single()]))).options)
    expect(single10.waitingPolicy).toBeNull()
  })
})
