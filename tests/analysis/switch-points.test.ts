import { describe, expect, test } from 'vitest'
import type { SwitchPoint } from '../../src/analysis/results/what-if.ts'
import { type Block, failsAt, option, play, put, single, unit, weibull, world } from '../worlds.ts'

/** Fails at 4.3, 8.6 and 12.9 within 17 years: three times parts 1000, labour 200, call-out 100. */
const FAILURES = [4.3, 8.6, 12.9]
const worn = (over: Block = {}) => single(put({ failure: failsAt(4.3) }, over), {}, 'Worn')
/** Dearer to buy by a premium, never fails. */
const sound = (premium: number) => single({}, { upfront_cost: 5000 + premium }, 'Sound')
const pointsOf = async (options: readonly Block[], over: Block = {}, draws = 20) =>
  (await play(world(options, put({ horizon_years: 17 }, over)), { draws })).switchPoints
const named = (points: readonly SwitchPoint[], input: string) => {
  const point = points.find(one => one.input === input)
  if (point === undefined) throw new Error(`no ${input} among ${points.map(one => one.input).join(', ')}`)
  return point
}

describe('S2: switch points computed by hand', () => {
  test('S2: labour: three repairs must cost what the other is dearer', async () => {
    const points = await pointsOf([worn(), sound(4500)])
    const labour = named(points, 'labour for a repair (Worn)')
    // 3 · (1000 + 400 + 100) = 4500
    expect(labour.value).toBeCloseTo(400, 6)
    expect(labour.differenceThere).toBeCloseTo(0, 6)
    expect([labour.present, labour.low, labour.high]).toEqual([200, expect.closeTo(200 / 3, 9), 600])
    expect([labour.option, labour.unit]).toEqual(['A', 'EUR'])
  })

  test('S2: call-out, of the whole scenario', async () => {
    const callOut = named(await pointsOf([sound(4050), worn()]), 'call-out for a visit')
    expect(callOut.value).toBeCloseTo(150, 6)
    expect(callOut.differenceThere).toBeCloseTo(0, 6)
    expect(callOut.option).toBeNull()
  })

  test('S2: none where nothing within the range changes the order', async () => {
    const points = await pointsOf([worn(), sound(9000)])
    for (const input of [
      'labour for a repair (Worn)',
      'labour for a repair (Sound)',
      'call-out for a visit',
      'price of energy bought',
      'parts warranty (Worn)',
      'parts warranty (Sound)',
      'discount rate',
    ]) {
      const { value, differenceThere, standardError } = named(points, input)
      expect({ input, value, differenceThere, standardError }).toEqual({
        input,
        value: null,
        differenceThere: null,
        standardError: null,
      })
    }
  })

  test.each([
    [3400, 5],
    [2400, 9],
    [1400, 13],
  ])(
    'S2: warranty years: at a premium of %d the order changes once cover reaches the failure in year %d',
    async (premium, years) => {
      const cover = { warranty: { replacement_cover: 'remaining' } }
      const points = await pointsOf([worn(cover), sound(premium)])
      const term = named(points, 'parts warranty (Worn)')
      expect([term.present, term.low, term.high]).toEqual([0, 0, 17])
      expect(term.value).toBe(years)
      // verified at the point: the order has changed, Worn is the cheaper by half a repair's parts
      const covered = FAILURES.filter(age => age < years).length
      // K2: Sound less Worn
      expect(term.differenceThere).toBeCloseTo(premium - 3900 + 1000 * covered, 6)
      expect(term.differenceThere).toBeGreaterThan(0)
    },
  )

  test('S2: warranty years run down too: the longest term at which the order has changed', async () => {
    const cover = { warranty: { years: 10, replacement_cover: 'remaining' } }
    // two covered: 1900 < 2400; one covered: 2900 > 2400, from term 8 down
    const term = named(await pointsOf([worn(cover), sound(2400)]), 'parts warranty (Worn)')
    expect(term.value).toBe(8)
    expect(term.differenceThere).toBeCloseTo(2400 - 2900, 6)
  })

  test.each([
    [2.5, 2400, 9],
    [5.5, 2400, 9],
    [9.5, 2400, 8],
    [3.5, 3400, 5],
  ])('S2: from a term of %d years too; the search used to halve a fraction for ever', async (years, premium, turns) => {
    const cover = { warranty: { years, replacement_cover: 'remaining' } }
    expect(named(await pointsOf([worn(cover), sound(premium)]), 'parts warranty (Worn)').value).toBe(turns)
  })

  test('S2: from a taken offer of 5.5 years', async () => {
    const offer = { component: 'string-inverter', years: 5.5, price: 100, taken: true }
    const bought = put(worn({ warranty: { replacement_cover: 'remaining' } }), { warranty_offers: [offer] })
    expect(named(await pointsOf([bought, sound(2400)]), 'parts warranty (Worn)').value).toBe(9)
  })

  test('S2: labour years and call-outs under the warranty: parts are paid, three repairs cost 300 each', async () => {
    const warranty = { years: 17, labour_years: 0, replacement_cover: 'remaining', visits_covered: 'no' }
    const points = await pointsOf([worn({ warranty }), sound(800)])
    // 900 against 800: labour of the repair in year 4.3 takes 200 off
    const labour = named(points, 'labour warranty (Worn)')
    expect([labour.present, labour.value, labour.low, labour.high]).toEqual([0, 5, 0, 17])
    expect(labour.differenceThere).toBeCloseTo(800 - 700, 6)
    // W4: a cover pays the call-out of work that it pays, so the labour of all three is covered here
    const worked = { warranty: { ...warranty, labour_years: 17 } }
    const visits = named(await pointsOf([worn(worked), sound(200)]), 'call-outs under warranty (Worn)')
    expect([visits.present, visits.value]).toEqual([0, 1])
    expect(visits.differenceThere).toBeCloseTo(200, 6)
    expect(points.filter(({ input }) => /^(labour|call-outs under) warranty \(Sound\)$/.test(input))).toEqual([])
  })

  test('S2: discount rate: the present value of three repairs meets the premium', async () => {
    const presentValue = (rate: number) => FAILURES.reduce((sum, at) => sum + 1300 * (1 + rate) ** -at, 0)
    const points = await pointsOf([worn(), sound(presentValue(0.06))], { discount_rate: 0.04 })
    const rate = named(points, 'discount rate')
    expect([rate.low, rate.high]).toEqual([expect.closeTo(-0.01, 12), expect.closeTo(0.09, 12)])
    // lives of shape 10,000 fail 0.00006 of their life early on average
    expect(rate.value).toBeCloseTo(0.06, 4)
    expect(Math.abs(rate.differenceThere ?? 9)).toBeLessThan(1)
  })

  test('S2: price of energy bought, where an outage loses what the household would have used', async () => {
    const down = worn({ downtime: { respond_days: 30 } })
    const over = { site: { energy_value: { self_consumed: '99%', export_price_per_kwh: 0.01 } } }
    // a whole outage loses the self-used share: 3 · 30 kWh at 0.99 · price + 0.01 · 0.01
    const premium = 3900 + 90 * (0.99 * 2 + 0.01 * 0.01)
    const price = named(await pointsOf([down, sound(premium)], over), 'price of energy bought')
    expect(price.value).toBeCloseTo(2, 6)
    expect(price.differenceThere).toBeCloseTo(0, 6)
  })

  test('S2: a range is searched from its 1 % to its 99 % point', async () => {
    const ranged = worn({ replacement: { labour: { low: 100, value: 200, high: 400 } } })
    const labour = named(await pointsOf([ranged, sound(4500)]), 'labour for a repair (Worn)')
    const reach = 2.3263478740408408 / 1.2815515655446004
    expect([labour.low, labour.high]).toEqual([
      expect.closeTo(200 * 2 ** -reach, 9),
      expect.closeTo(200 * 2 ** reach, 9),
    ])
    expect(labour.value).toBeCloseTo(400, 6)
  })
})

describe('S2: switch points of lives by chance', () => {
  test('S2: characteristic life: repairs that come at a constant rate, verified by one run at the point', async () => {
    // without wear 17/η repairs of 1300 are expected: at a premium of 1700, η = 13
    const options = [worn({ failure: weibull(1, 10) }), sound(1700)]
    const points = await pointsOf(options, {}, 4000)
    const life = named(points, 'characteristic life (Worn)')
    expect([life.present, life.low, life.high]).toEqual([10, expect.closeTo(10 / 3, 9), 30])
    expect(Math.abs(life.differenceThere ?? 9e9)).toBeLessThan(3 * (life.standardError ?? 0))
    // mean count 17/13 from 4,000 lives: error of η is 13 · √(13/17/4000), z under 4.5
    expect(Math.abs((life.value ?? 0) - 13)).toBeLessThan(4.5 * 13 * Math.sqrt(13 / 17 / 4000))
    // without spread between models half of such units have failed by η ln 2
    const half = [life.present, life.value ?? 0, life.low, life.high].map(years => years * Math.LN2)
    const { present, value, low, high } = life.halfFailBy ?? {}
    for (const [i, age] of [present, value, low, high].entries()) expect(age).toBeCloseTo(half[i] ?? 0, 9)
    expect(named(points, 'discount rate').halfFailBy).toBeNull()
  })

  test('S2: a characteristic life with a range is set to the one figure, as for a user who types it', async () => {
    const life = (characteristic_life_years: unknown) =>
      worn({ failure: { ...weibull(1, 10), characteristic_life_years } })
    const ranged = await pointsOf([life({ low: 6, value: 10, high: 20 }), sound(1700)], {}, 4000)
    const point = named(ranged, 'characteristic life (Worn)')
    const typed = await play(world([life(point.value), sound(1700)], { horizon_years: 17 }), { draws: 4000 })
    // Sound less Worn; other parameter sets, so other errors: z under 4.5
    const [pair] = typed.comparisons
    expect(pair?.option).toBe('B')
    const error = Math.hypot(pair?.standardError ?? 0, point.standardError ?? 0)
    expect(Math.abs((pair?.meanDifference ?? 9e9) - (point.differenceThere ?? 0))).toBeLessThan(4.5 * error)
    expect(point.draws).toBe(4000)
  })

  test('S2, U1c: the tier effect is looked for where a tier gap is played, and nowhere else', async () => {
    const tiered = (tier: string, upfront_cost: number): Block => {
      const { failure: _, ...told } = unit('string-inverter', { tier })
      return option(tier, 'string', [told], { upfront_cost })
    }
    const input = 'how much of the judged gap between tiers is real'
    const { switchPoints: points, comparisons } = await play(
      world([tiered('plain', 5000), tiered('robust', 5120)], { horizon_years: 15 }),
      {
        draws: 1000,
      },
    )
    const effect = named(points, input)
    expect([effect.low, effect.high, effect.present, effect.option]).toEqual([0.02, 1.98, 1, null])
    if (effect.value === null) throw new Error(`no switch: ${JSON.stringify(comparisons)}`)
    expect(effect.value > 0.02 && effect.value < 1.98).toBe(true)
    expect(Math.abs(effect.differenceThere ?? 9e9)).toBeLessThan(3 * (effect.standardError ?? 0))
    const without = await pointsOf([tiered('plain', 5000), put(tiered('plain', 5120), { name: 'other' })])
    expect(without.map(point => point.input)).not.toContain(input)
  })

  test('S2: one option alone has no switch points', async () => {
    expect(await pointsOf([worn()])).toEqual([])
  })
})
