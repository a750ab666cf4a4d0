import { describe, expect, test } from 'vitest'
import {
  type Block,
  DAYS_OF_MONTHS,
  days,
  failsAt,
  first,
  livesOf,
  meanOf,
  option,
  playOptions,
  put,
  single,
  unit,
  weibull,
  world,
} from '../worlds.ts'

const only = async (...from: Parameters<typeof playOptions>) => first((await playOptions(...from)).options)
/** A swap at an exact date that takes some days. */
const swap = (atYears: number, repairDays: number): Block => ({
  replace_at_age_years: atYears,
  downtime: { repair_days: repairDays },
})

describe('O4: what a unit takes with it', () => {
  const lost = async (one: Block, over: Block = {}) =>
    (await only(world([one], { horizon_years: 4, ...over }))).energy.outageLossKwh.mean

  test('inverters share by ac_kw, without any equally; share overrides', async () => {
    const two = (a: Block, b: Block) =>
      option('T', 'string', [unit('string-inverter', put(swap(3, 10), a)), unit('string-inverter', b)])
    expect(await lost(two({ ac_kw: 6 }, { ac_kw: 2 }))).toBeCloseTo(7.5, 9)
    expect(await lost(two({}, { count: 3 }))).toBeCloseTo(2.5, 9)
    expect(await lost(two({ share: 0.1 }, { share: 0.9 }))).toBeCloseTo(1, 9)
  })

  test('a DC isolator takes its string: all of one, half of two', async () => {
    const isolated = (strings: number) =>
      option('I', 'string', [
        unit('string-inverter', { strings }),
        unit('dc-isolator', { failure: failsAt(3), downtime: { repair_days: 10 } }),
      ])
    expect(await lost(isolated(1))).toBeCloseTo(10, 6)
    expect(await lost(isolated(2))).toBeCloseTo(5, 6)
  })

  test('a panel-level unit is 1/count, an optimiser 1/panels, a gateway nothing; units of a share split it', async () => {
    const inverter = unit('string-inverter')
    const panel = (over: Block) =>
      option('P', 'panel-level', [
        unit('panel-level-unit', { count: 5, failure: failsAt(2), downtime: { repair_days: 10 }, ...over }),
      ])
    expect(await lost(panel({}))).toBeCloseTo(10, 6)
    const one = option('P', 'panel-level', [
      unit('panel-level-unit', swap(3, 10)),
      unit('panel-level-unit', { count: 4 }),
    ])
    expect(await lost(one)).toBeCloseTo(2, 9)
    const optimiser = option('S', 'string-some-optimisers', [inverter, unit('optimiser', { ...swap(3, 10), count: 2 })])
    expect(await lost(optimiser)).toBeCloseTo(2 * 10 * 0.1, 9)
    const told = option('S', 'string-some-optimisers', [
      inverter,
      unit('optimiser', { ...swap(3, 10), count: 2, share: 0.6 }),
    ])
    expect(await lost(told)).toBeCloseTo(6, 9)
    const gateway = option('G', 'string', [inverter, unit('gateway', swap(3, 10))])
    expect(await lost(gateway)).toBe(0)
  })

  test('an optimiser failure takes its string down; other failures on that string lose nothing more', async () => {
    const strings = (takes: number, nStrings: number) =>
      option('S', 'string-optimisers', [
        unit('string-inverter', { strings: nStrings }),
        // all ten are down for 10 days, within two days of each other
        unit('optimiser', { count: 10, failure: failsAt(3), downtime: { repair_days: 10 }, takes_string_down: takes }),
      ])
    expect(await lost(strings(0, 2))).toBeCloseTo(10, 6)
    // the first failure of each string takes it down: half the roof at a time, from its first failure to its last return
    const blocks = world([strings(1, 2)], { horizon_years: 4 })
    const expected = meanOf(
      livesOf(blocks, 20).map(({ rows }) =>
        [0, 1].reduce((sum, string) => {
          const mine = rows.filter(
            row => row.place === 1 && row.string === string && row.failedAt < 4 && row.before < 0,
          )
          expect(mine).toHaveLength(5)
          const from = Math.min(...mine.map(row => row.failedAt))
          const to = Math.max(...mine.map(row => row.returnedAt))
          return sum + 0.5 * (to - from) * 365
        }, 0),
      ),
    )
    expect((await only(blocks)).energy.outageLossKwh.mean).toBeCloseTo(expected, 6)
  })
})

describe('O5: overlapping outages', () => {
  test('energy delivered is the product of central and mean panel-level availability at each moment', async () => {
    // the inverter (half of two) is down in days 0 to 20 of year 3, five of ten optimisers in days 0 to 10
    const one = option('S', 'string-optimisers', [
      unit('string-inverter', swap(3, 20)),
      unit('string-inverter'),
      unit('optimiser', { count: 5 }),
      unit('optimiser', { ...swap(3, 20), count: 5 }),
    ])
    // both come in one visit that takes 20 days: 1 − 0.5 · 0.5 of the roof is lost
    const { energy, availability, downtimeDays } = await only(world([one], { horizon_years: 4 }))
    expect(energy.outageLossKwh.mean).toBeCloseTo(20 * 0.75, 9)
    expect(downtimeDays.mean).toBeCloseTo(15, 9)
    expect(availability.timeBased).toBeCloseTo(1 - 15 / (4 * 365), 12)
    expect(availability.energyWeighted).toBeCloseTo(1 - 15 / (4 * 365), 12)
  })

  test('time-based and energy-weighted availability differ where the seasons do', async () => {
    const winter = { generation: { monthly_kwh: [31, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0] } }
    const one = single(swap(3, 10))
    const { availability } = await only(world([one], { horizon_years: 4, site: winter }))
    expect(availability.timeBased).toBeCloseTo(1 - 10 / (4 * 365), 12)
    expect(availability.energyWeighted).toBeCloseTo(1 - 10 / (4 * 31), 12)
  })

  test('longer downtime never loses less energy', async () => {
    let before = -1
    for (const repair of [0, 1, 5, 30, 200]) {
      const one = single({ count: 2, failure: failsAt(2.2), downtime: { repair_days: repair } })
      const { energy } = await only(world([one], { horizon_years: 6 }))
      expect(energy.outageLossKwh.mean).toBeGreaterThan(before)
      before = energy.outageLossKwh.mean
    }
  })
})

describe('O7: battery', () => {
  const hybrid = (inverter: Block, battery: Block) =>
    option('H', 'hybrid', [unit('hybrid-inverter', inverter), unit('battery', { count: 2, ...battery })], {
      battery: { value_per_day: 2, without_sun: 0.25, backup: true },
    })
  const separate = (inverter: Block, batteryInverter: Block) =>
    option(
      'S',
      'string',
      [unit('string-inverter', inverter), unit('battery'), unit('battery-inverter', batteryInverter)],
      {
        battery: { value_per_day: 2, without_sun: 0.25, backup: true },
      },
    )
  const played = (one: Block, over: Block = {}) => only(world([one], { horizon_years: 4, ...over }))

  test('while the sun’s inverter is down it loses (1 − without_sun) of its value; in hybrid all of it', async () => {
    const apart = await played(separate(swap(3, 10), {}))
    expect(apart.costs.batteryOutage).toBeCloseTo(10 * 2 * 0.75, 9)
    expect(apart.daysWithoutBackup).toBeCloseTo(0, 9)
    const together = await played(hybrid(swap(3, 10), {}))
    expect(together.costs.batteryOutage).toBeCloseTo(20, 9)
    expect(together.daysWithoutBackup).toBeCloseTo(10, 9)
  })

  test('battery and battery-inverter have no share of generation; their loss is the product of battery value and share down', async () => {
    const inverter = await played(separate({}, swap(3, 10)))
    expect(inverter.costs.batteryOutage).toBeCloseTo(20, 9)
    expect(inverter.costs.outageEnergy).toBe(0)
    expect(inverter.daysWithoutBackup).toBeCloseTo(10, 9)
    const both = await played(separate(swap(3, 10), swap(3, 10)))
    expect(both.costs.batteryOutage).toBeCloseTo(20, 9)
    const half = option('S', 'hybrid', [unit('hybrid-inverter'), unit('battery', swap(3, 10)), unit('battery')], {
      battery: { value_per_day: 2 },
    })
    const one = await played(half)
    expect(one.costs.batteryOutage).toBeCloseTo(10, 9)
    expect(one.daysWithoutBackup).toBeNull()
  })

  test('the loss is discounted, without growth', async () => {
    const { costs } = await played(hybrid({}, swap(3, 10)), { discount_rate: 0.05 })
    expect(costs.batteryOutage).toBeCloseTo(20 * 1.05 ** -(3 + days(5)), 9)
  })
})

describe('C5: what lost energy is worth', () => {
  const prices = { import_price_per_kwh: 0.5, export_price_per_kwh: 0.1, self_consumed: 0.4 }

  test('a lost share f is self-used to s·(0.7s + (1 − 0.7s)·f²), the rest exported', async () => {
    for (const [count, f] of [
      [1, 1],
      [2, 0.5],
      [4, 0.25],
    ] as const) {
      const one = option('S', 'string', [
        unit('string-inverter', swap(3, 10)),
        ...(count > 1 ? [unit('string-inverter', { count: count - 1 })] : []),
      ])
      const { costs } = await only(world([one], { horizon_years: 4, site: { energy_value: prices } }))
      const used = 0.4 * (0.28 + 0.72 * f * f)
      expect(costs.outageEnergy).toBeCloseTo(10 * f * (used * 0.5 + (1 - used) * 0.1), 9)
    }
  })

  test('shade, mismatch and conversion are valued so by their share; clipped energy at the export price', async () => {
    const designed = (losses: Block) =>
      only(world([single({}, { design_losses: losses })], { horizon_years: 1, site: { energy_value: prices } }))
    const worth = (f: number) => 365 * f * (0.1 + 0.4 * 0.4 * (0.28 + 0.72 * f * f))
    expect((await designed({ mismatch_and_shade: 0.1 })).costs.designEnergy).toBeCloseTo(worth(0.1), 9)
    expect((await designed({ conversion: 0.04 })).costs.designEnergy).toBeCloseTo(worth(0.04), 9)
    expect((await designed({ clipping: 0.03 })).costs.designEnergy).toBeCloseTo(365 * 0.03 * 0.1, 9)
  })

  test('twelve self-consumed shares are from January, whatever the start', async () => {
    const shares = DAYS_OF_MONTHS.map((_, month) => (month === 6 ? 1 : 0))
    const energy = { import_price_per_kwh: 0.5, export_price_per_kwh: 0, self_consumed: shares }
    const { costs } = await only(
      world([single({ replace_at_age_years: 1, downtime: { repair_days: 40 } })], {
        start: '2027-06',
        horizon_years: 2,
        site: { energy_value: energy },
      }),
    )
    // 40 days from 1 June: 30 in June, 10 in July
    expect(costs.outageEnergy).toBeCloseTo(10 * 0.5, 9)
  })
})

describe('C6: residual value', () => {
  test('parts price at the horizon × mean residual life / mean life, per unit that works, discounted', async () => {
    // lives within a few days of 8 years: at the horizon of 20 the third unit is 4 years old, and none has failed so young
    let life = 0
    for (let t = 0.0005; t < 10; t += 0.001) life += 0.001 * Math.exp(-((t / 8) ** 500))
    const one = single({ count: 2, failure: weibull(500, 8), replacement: { parts_growth: -0.02 } })
    const { costs, withStraightLine, lifetimeCost } = await only(
      world([one], { residual_value: 'straight-line', discount_rate: 0.03 }),
    )
    const blocks = world([one], { horizon_years: 20 })
    const share = meanOf(
      livesOf(blocks, 20).map(({ rows }) => {
        const last = rows.filter(row => row.returnedAt < 20).slice(-2)
        return last.reduce((sum, row) => sum + (life - (20 - row.returnedAt)) / life, 0)
      }),
    )
    expect(-costs.residual / (1000 * share * (0.98 / 1.03) ** 20)).toBeCloseTo(1, 6)
    expect(withStraightLine.mean).toBe(lifetimeCost.mean)
  })

  test('constant hazard: a working unit is worth its full price whatever its age; one that is down nothing', async () => {
    const ages = single({
      age_years: 9,
      failure: { shape: 1, characteristic_life_years: 10, model_spread: 0, bad_batch: { chance: 0 } },
      downtime: { respond_days: 1500 },
    })
    const blocks = world([ages], { residual_value: 'straight-line', horizon_years: 8 })
    const works = meanOf(
      livesOf(blocks, 40).map(({ rows }) => (rows.some(row => row.failedAt < 8 && row.returnedAt > 8) ? 0 : 1)),
    )
    expect(works).toBeGreaterThan(0.3)
    expect(works).toBeLessThan(0.95)
    const { costs } = await only(blocks, { draws: 40 })
    // lives are taken to 100 years: the share is exact to their rest
    expect(-costs.residual / (1000 * works)).toBeCloseTo(1, 3)
  })

  test('a repaired unit is worth what the modes still alive in it leave', async () => {
    // fails by a defect at 4 and is renewed; what is left then is wear at 22, longer than the mean life of a new unit
    const modes = [
      { cause: 'defect', susceptible: 0.99, shape: 5000, characteristic_life_years: 4 },
      { cause: 'wear', shape: 5000, characteristic_life_years: 22 },
    ]
    const one = single({
      failure: { modes, model_spread: 0, bad_batch: { chance: 0 } },
      restore: { repair: { renews: 1, parts: 300, labour: 80 } },
    })
    const { costs } = await only(world([one], { residual_value: 'straight-line', horizon_years: 6 }))
    expect(costs.residual).toBeCloseTo(-1000, 6)
  })

  test('a unit half renewed by a repair is worth what its virtual age leaves', async () => {
    const restore = { repair: { renews: 0.5, parts: 300, labour: 80 } }
    const one = single({ failure: failsAt(8), restore })
    const { costs } = await only(world([one], { residual_value: 'straight-line', horizon_years: 10 }))
    // 4 years old after the repair at 8, 6 at the horizon, of 8
    expect(Math.abs(costs.residual + 250)).toBeLessThan(1)
  })

  test('none: nothing is credited, and the cost with residual value is given too', async () => {
    const { costs, lifetimeCost, withStraightLine } = await only(world([single({ failure: failsAt(8) })]))
    expect(costs.residual).toBe(0)
    expect(withStraightLine.mean).toBeLessThan(lifetimeCost.mean)
  })
})
