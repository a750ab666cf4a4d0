import { describe, expect, test } from 'vitest'
import { days, failsAt, first, livesOf, meanOf, NEVER, option, playOptions, single, unit, world } from '../worlds.ts'

/** The only option of a played world. */
const only = async (...from: Parameters<typeof playOptions>) => first((await playOptions(...from)).options)

const RATE = 0.04
/** Replaced as planned at 5, 10, 15 years: the one event whose date is exact. */
const PLANNED = { replace_at_age_years: 5 }

describe('time', () => {
  test('T1: a year is 365 days and starts in the month of commissioning', async () => {
    // only August gives energy, 10 kWh a day; half a year after 1 March is 30 August
    const august = [0, 0, 0, 0, 0, 0, 0, 310, 0, 0, 0, 0]
    const site = { generation: { monthly_kwh: august } }
    const one = single({ failure: failsAt(0.5), downtime: { repair_days: 1 }, warranty: {} })
    const summer = await only(world([one], { start: '2027-03', horizon_years: 1, site }))
    expect(summer.energy.outageLossKwh.mean).toBeCloseTo(10, 9)
    expect(summer.energy.deliveredByMonthKwh[7]).toBeCloseTo(300, 9)
    // half a year after 1 January is 2 July
    const winter = await only(world([one], { start: '2027-01', horizon_years: 1, site }))
    expect(winter.energy.outageLossKwh.mean).toBe(0)
  })

  test('T2: each month’s part of an outage is valued in its middle; payments at their own moment', async () => {
    const growth = 0.03
    const one = single({ ...PLANNED, downtime: { repair_days: 40 } })
    const { costs } = await only(
      world([one], {
        horizon_years: 6,
        discount_rate: RATE,
        site: { energy_value: { import_price_per_kwh: 1, export_price_per_kwh: 1, export_price_growth: growth } },
      }),
    )
    const factor = (at: number) => ((1 + growth) / (1 + RATE)) ** at
    const expected = 31 * factor(5 + days(15.5)) + 9 * factor(5 + days(31 + 4.5))
    expect(costs.outageEnergy).toBeCloseTo(expected, 9)
    expect(costs.parts).toBeCloseTo(1000 / (1 + RATE) ** (5 + days(40)), 9)
  })

  test('T3: year k gives (1 − degradation)^k of year 0', async () => {
    const site = { generation: { degradation: 0.01 } }
    const one = single({ ...PLANNED, downtime: { repair_days: 3 } })
    const { energy } = await only(world([one], { horizon_years: 6, site }))
    expect(energy.outageLossKwh.mean).toBeCloseTo(3 * 0.99 ** 5, 10)
    const ideal = [0, 1, 2, 3, 4, 5].reduce((sum, year) => sum + 365 * 0.99 ** year, 0)
    expect(energy.idealKwh).toBeCloseTo(ideal, 8)
  })
})

describe('payments', () => {
  test('C1: without growth every repair costs the same, whenever it comes', async () => {
    const early = await only(world([single({ failure: failsAt(4) })], { horizon_years: 5 }))
    const late = await only(world([single({ failure: failsAt(19) })]))
    expect(early.lifetimeCost.mean).toBeCloseTo(5000 + 1000 + 200 + 100, 9)
    expect(late.lifetimeCost.mean).toBeCloseTo(early.lifetimeCost.mean, 9)
  })

  test('C2, C3: repairs are paid at the return, yearly cost in the middle of each year', async () => {
    const blocks = world(
      [
        single(
          { failure: failsAt(6.5), downtime: { detect_days: 3, respond_days: 20, repair_days: 2 } },
          { yearly_cost: 60 },
        ),
      ],
      { discount_rate: RATE },
    )
    const { costs } = await only(blocks)
    const returns = livesOf(blocks, 20).map(({ rows }) => rows.map(row => row.returnedAt))
    // worked out by hand: 25 days after each failure
    for (const [one = 0, two = 0] of returns) {
      expect(one).toBeCloseTo(6.5 + days(25), 1)
      expect(two).toBeCloseTo(13 + days(50), 1)
    }
    const factor = meanOf(returns.map(at => at.reduce((sum, t) => sum + (1 + RATE) ** -t, 0)))
    expect(costs.parts).toBeCloseTo(1000 * factor, 8)
    expect(costs.labour).toBeCloseTo(200 * factor, 8)
    expect(costs.visits).toBeCloseTo(100 * factor, 8)
    let yearly = 0
    for (let year = 0; year < 20; year++) yearly += 60 * (1 + RATE) ** -(year + 0.5)
    expect(costs.yearly).toBeCloseTo(yearly, 8)
  })

  test('C4: parts grow by their rate; labour, call-out and roof access by labour_growth', async () => {
    const one = single({ ...PLANNED, on_roof: true, replacement: { parts_growth: -0.02 } })
    const { costs } = await only(
      world([one], { horizon_years: 12, discount_rate: RATE, visit: { labour_growth: 0.01 } }),
    )
    const sum = (growth: number) => [5, 10].reduce((total, t) => total + ((1 + growth) / (1 + RATE)) ** t, 0)
    expect(costs.parts).toBeCloseTo(1000 * sum(-0.02), 9)
    expect(costs.labour).toBeCloseTo(200 * sum(0.01), 9)
    expect(costs.visits).toBeCloseTo(130 * sum(0.01), 9)
  })

  test('O6: an outage at the horizon is cut there and its repair is not paid', async () => {
    const one = single({ replace_at_age_years: 9.95, downtime: { repair_days: 30 } })
    const cut = await only(world([one], { horizon_years: 10 }))
    expect(cut.energy.outageLossKwh.mean).toBeCloseTo(0.05 * 365, 9)
    expect(cut.lifetimeCost.mean).toBeCloseTo(5000 + 0.05 * 365, 9)
    expect(cut.visits.mean).toBe(0)
    expect(cut.cashByYear.mean.every(cash => cash === 0)).toBe(true)
  })

  test('M8: the first replacement after the end of production pays the surcharge, once, without growth, even under cover', async () => {
    const one = single({
      age_years: 3,
      failure: failsAt(5),
      replacement: { parts_growth: 0.05 },
      warranty: { years: 100, replacement_cover: 'renewed' },
      successor: { surcharge: 300, chance: { 10: 0, '10.001': 1 } },
    })
    const blocks = world([one], { discount_rate: RATE })
    const result = await only(blocks)
    // the design ages with its oldest unit: 10 years old after 7; failures after 2, 7, 12, 17 years, the second a hair after or before
    const lives = livesOf(blocks, 20)
    const expected = meanOf(
      lives.map(({ rows, endOfProduction: [end = 0] }) => {
        expect(end).toBeGreaterThanOrEqual(7)
        expect(end).toBeLessThanOrEqual(7.001)
        const paid = rows.find(row => row.returnedAt > end)
        return 300 * (1 + RATE) ** -(paid?.returnedAt ?? 0)
      }),
    )
    expect(result.surcharges).toBeCloseTo(expected, 9)
    expect(result.costs.parts).toBeCloseTo(expected, 9)
  })

  test('M8: a design out of production before the start surcharges the first replacement, planned ones too', async () => {
    const one = single({ ...PLANNED, age_years: 4, successor: { surcharge: 300, chance: { 2: 0, 3: 1 } } })
    const { surcharges } = await only(world([one], { horizon_years: 12, discount_rate: RATE }))
    expect(surcharges).toBeCloseTo(300 / 1.04, 9)
  })
})

describe('visits', () => {
  /** Five panel-level units of two kinds that fail within days of each other and wait for one visit. */
  const panels = (first: object, second: object) =>
    option(
      'Panels',
      'panel-level',
      [
        unit('panel-level-unit', { count: 3, failure: failsAt(4), on_roof: true, ...first }),
        unit('panel-level-unit', {
          count: 2,
          failure: failsAt(4),
          replacement: { parts: 400, labour: 260, labour_each_further: 80 },
          ...second,
        }),
      ],
      { visit_policy: { wait_for_units: 5, wait_at_most_days: 365 } },
    )

  test('W4: a visit pays one call-out, access once, the largest labour and each_further of the others', async () => {
    const { costs, visits } = await only(world([panels({}, {})], { horizon_years: 6 }))
    expect(visits.mean).toBe(1)
    expect(costs.parts).toBeCloseTo(3 * 1000 + 2 * 400, 9)
    expect(costs.labour).toBeCloseTo(260 + 3 * 50 + 80, 9)
    expect(costs.visits).toBeCloseTo(100 + 30, 9)
  })

  test('W4: labour is split equally, the share of the units under labour cover is not paid', async () => {
    const covered = { warranty: { labour_years: 10, labour: 0.75, visits_covered: true } }
    const { costs } = await only(world([panels(covered, {})], { horizon_years: 6 }))
    const each = (260 + 3 * 50 + 80) / 5
    expect(costs.labour).toBeCloseTo(2 * each + 3 * 0.25 * each, 9)
    // one unit without cover: the whole trip is paid
    expect(costs.visits).toBeCloseTo(130, 9)
  })

  test('W4: call-out and access are free only if all units are under labour cover with visits_covered', async () => {
    const both = { warranty: { labour_years: 10, visits_covered: true } }
    const free = await only(world([panels(both, both)], { horizon_years: 6 }))
    expect(free.costs.visits).toBe(0)
    expect(free.costs.labour).toBe(0)
    expect(free.paidByCover).toEqual({ parts: 0, labour: 490, visits: 130 })
    const one = await only(world([panels(both, { warranty: { labour_years: 10 } })], { horizon_years: 6 }))
    expect(one.costs.visits).toBeCloseTo(130, 9)
  })

  test.each([
    ['all covered', { labour_years: 10, visits_covered: true }, 0],
    ['the call-out is not covered', { labour_years: 10 }, 1],
    ['a part of the labour is not covered', { labour_years: 10, labour: 0.9, visits_covered: true }, 1],
    ['no labour cover', { labour_years: 0, visits_covered: true }, 1],
  ])('O3: a visit is paid if the owner bears any part of it, whatever its price: %s', async (_, warranty, paid) => {
    const free = { replacement: { labour: 0 }, warranty }
    for (const prices of [{}, { visit: { call_out: 0, roof_access: 0 } }]) {
      const result = await only(world([single({ failure: failsAt(4), ...free })], { horizon_years: 6, ...prices }))
      expect([result.visits.mean, result.visitsInAll.mean, result.visitShares.one]).toEqual([paid, 1, paid])
    }
  })

  test('W4: the share of parts under cover is not paid when the claim succeeds', async () => {
    const one = single({ failure: failsAt(4), warranty: { years: 10, parts: 0.6 } })
    const { costs, paidByCover } = await only(world([one], { horizon_years: 6 }))
    expect(costs.parts).toBeCloseTo(400, 9)
    expect(paidByCover?.parts).toBeCloseTo(600, 9)
  })

  test('O3: units that need no visit pay no call-out, access or labour, when replaced as planned either', async () => {
    const gateway = { failure: failsAt(3), on_roof: true }
    const failing = option('G', 'string', [unit('string-inverter'), unit('gateway', gateway)])
    const planned = option('G', 'string', [
      unit('string-inverter'),
      unit('gateway', { replace_at_age_years: 3, on_roof: true }),
    ])
    for (const one of [failing, planned]) {
      const { costs, visits } = await only(world([one], { horizon_years: 5 }))
      expect(costs.parts).toBeCloseTo(1000, 9)
      expect({ labour: costs.labour, trips: costs.visits, visits: visits.mean }).toEqual({
        labour: 0,
        trips: 0,
        visits: 0,
      })
    }
  })

  test('M3, W4: in a visit a repair pays its own parts and labour, grown and covered as a replacement', async () => {
    const one = single({
      failure: failsAt(4),
      replacement: { parts_growth: 0.03 },
      warranty: { years: 5, parts: 0.5 },
      restore: { repair: { renews: 1, parts: 300, labour: 120 } },
    })
    const blocks = world([one], { horizon_years: 10, visit: { labour_growth: 0.02 } })
    const { costs } = await only(blocks)
    const lives = livesOf(blocks, 20)
    const at = (place: number) => lives.map(({ rows }) => rows[place]?.returnedAt ?? 0)
    const parts = meanOf(at(0).map(t => 150 * 1.03 ** t)) + meanOf(at(1).map(t => 300 * 1.03 ** t))
    expect(costs.parts).toBeCloseTo(parts, 8)
    const labour = meanOf(at(0).map(t => 120 * 1.02 ** t)) + meanOf(at(1).map(t => 120 * 1.02 ** t))
    expect(costs.labour).toBeCloseTo(labour, 8)
  })
})

describe('C7: lifetime cost', () => {
  const everything = world(
    [
      option(
        'Hybrid',
        'hybrid',
        [
          unit('hybrid-inverter', {
            failure: failsAt(6.4),
            downtime: { respond_days: 30 },
            successor: { surcharge: 250, chance: { 1: 1 } },
            warranty: { years: 5, labour_years: 1 },
          }),
          unit('battery', { failure: failsAt(9.3), downtime: { respond_days: 20 } }),
        ],
        {
          yearly_cost: 40,
          later: [{ name: 'second battery', year: 5, cost: 900 }],
          battery: { value_per_day: 0.8, without_sun: 0.2, backup: true },
          design_losses: { mismatch_and_shade: 0.02, clipping: 0.01, conversion: 0.03 },
          warranty_offers: [{ years: 8, price: 333, taken: true }],
        },
      ),
    ],
    {
      discount_rate: RATE,
      residual_value: 'straight-line',
      site: { generation: { degradation: 0.007 }, energy_value: { self_consumed: 0.3, export_price_per_kwh: 0.4 } },
    },
  )

  test('it is the sum of its lines, all of them at work; incomes are negative; acquisition and ownership make the whole', async () => {
    const one = await only(everything)
    const { costs } = one
    expect(Object.values(costs).every(line => line !== 0)).toBe(true)
    expect(costs.residual).toBeLessThan(0)
    expect(costs.batteryEarnings).toBeLessThan(0)
    expect(costs.warranty).toBe(333)
    const sum = Object.values(costs).reduce((total, line) => total + line, 0)
    expect(sum / one.lifetimeCost.mean).toBeCloseTo(1, 12)
    expect(one.totals.acquisition).toBe(5333)
    expect(one.totals.acquisition + one.totals.ownership).toBeCloseTo(one.lifetimeCost.mean, 8)
    const lost = costs.outageEnergy + costs.designEnergy + costs.batteryOutage + costs.batteryEarnings
    expect(one.totals.withoutLostEnergy).toBeCloseTo(one.lifetimeCost.mean - lost, 8)
  })

  test('the energy the roof could give is what is delivered and every loss', async () => {
    const { energy } = await only(everything)
    const losses = Object.values(energy.designLossKwh).reduce((sum, kwh) => sum + kwh, energy.outageLossKwh.mean)
    expect((energy.deliveredKwh + losses) / energy.idealKwh).toBeCloseTo(1, 12)
    const sum = (months: readonly number[]) => months.reduce((total, kwh) => total + kwh, 0)
    expect(sum(energy.idealByMonthKwh) / energy.idealKwh).toBeCloseTo(1, 12)
    expect(sum(energy.deliveredByMonthKwh) / energy.deliveredKwh).toBeCloseTo(1, 12)
  })

  test('cost per delivered kWh is the cost without lost energy over discounted kWh, month by month', async () => {
    const { energy, totals } = await only(
      world([single({ failure: NEVER }, { yearly_cost: 10 })], { horizon_years: 3, discount_rate: RATE }),
    )
    const lengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    let kwh = 0
    for (let year = 0, day = 0; year < 3; year++) {
      for (const length of lengths) {
        kwh += length * (1 + RATE) ** -days(day + length / 2)
        day += length
      }
    }
    expect(energy.costPerDeliveredKwh).toBeCloseTo(totals.withoutLostEnergy / kwh, 9)
  })
})
