import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { type Block, failsAt, first, option, play, single, unit, world } from '../worlds.ts'

/** Sum of the days of 20 years that fade by 2 % a year, from an age and between two moments. */
function fadedDays(from: number, to: number, age: number): number {
  const k = Math.log(0.98)
  return (365 * (Math.exp(k * (age + to - from)) - Math.exp(k * age))) / k
}

/** A string option with a battery of its own inverter; 365 kWh a year, bought at 1, sold at nothing, none used. */
function withBattery(battery: Block, over: Block = {}, name = 'Battery', upfront = 9000): Block {
  return option(
    name,
    'string',
    [unit('string-inverter', { ac_kw: 5 }), unit('battery', over), unit('battery-inverter')],
    { upfront_cost: upfront, battery },
  )
}

const FREE = { site: { energy_value: { export_price_per_kwh: 0 } } }
const played = (options: readonly Block[], over: Block = {}): Promise<Results> =>
  play(world(options, { site: { energy_value: { export_price_per_kwh: 0 } }, ...over }))

describe('O7 what a battery earns', () => {
  test('a stated value is earned every day to the horizon, undiscounted here, and does not fade', async () => {
    const { costs, totals, lifetimeCost, energy } = first((await played([withBattery({ value_per_day: 2 })])).options)
    expect(costs.batteryEarnings).toBeCloseTo(-2 * 365 * 20, 6)
    expect(lifetimeCost.mean).toBeCloseTo(9000 - 2 * 365 * 20, 6)
    expect(totals.withoutLostEnergy).toBeCloseTo(9000, 6)
    expect(energy.costPerDeliveredKwh).toBeNull()
  })

  test('discounted, a steady income is that of the integral', async () => {
    const { costs } = first((await played([withBattery({ value_per_day: 2 })], { discount_rate: 0.04 })).options)
    const rate = Math.log(1.04)
    expect(costs.batteryEarnings).toBeCloseTo((-2 * 365 * -Math.expm1(-20 * rate)) / rate, 6)
  })

  test('earned whatever fails; what outages take is batteryOutage: 10 days of 2', async () => {
    const down = { failure: failsAt(5), downtime: { respond_days: 10 } }
    const { costs } = first(
      (await played([withBattery({ value_per_day: 2 }, { ...down, warranty: { years: 9 } })])).options,
    )
    expect(costs.batteryEarnings).toBeCloseTo(-2 * 365 * 20, 6)
    // fails at 5, 10, 15: each 10 days
    expect(costs.batteryOutage).toBeCloseTo(2 * 10 * 3, 1)
  })

  test('computed from the published points: 1 kWh a kW adds 24 points; it fades by 2 % a year of its age', async () => {
    const { costs } = first((await played([withBattery({ kwh: 5 })])).options)
    expect(costs.batteryEarnings).toBeCloseTo(-0.24 * fadedDays(0, 20, 0), 6)
    const half = first((await played([withBattery({ kwh: 2.5 }, { age_years: 4 })])).options)
    expect(half.costs.batteryEarnings).toBeCloseTo(-0.13 * fadedDays(0, 20, 4), 6)
  })

  test('anew after its replacement: a battery of 8 years replaced after 12 more', async () => {
    const renewed = withBattery({ kwh: 5 }, { age_years: 8, failure: failsAt(20) })
    const { costs } = first((await played([renewed])).options)
    expect(costs.batteryEarnings).toBeCloseTo(-0.24 * (fadedDays(0, 12, 8) + fadedDays(12, 20, 0)), 1)
    const one = first((await played([withBattery({ kwh: 5 }, { age_years: 8 })])).options)
    expect(costs.batteryEarnings).toBeLessThan(one.costs.batteryEarnings - 1)
  })

  test('an outage takes what the battery would have given at its age', async () => {
    const inverter = unit('string-inverter', { ac_kw: 5, failure: failsAt(10), downtime: { respond_days: 36.5 } })
    const parts = [inverter, unit('battery'), unit('battery-inverter')]
    const { costs } = first(
      (await played([option('One', 'string', parts, { battery: { kwh: 5 } })], { horizon_years: 15 })).options,
    )
    expect(costs.batteryOutage / (0.24 * fadedDays(10, 10.1, 10))).toBeCloseTo(1, 3)
  })

  test('no kWh earn nothing; a battery component is added where none is listed, with an inverter where no hybrid is', async () => {
    const { options } = await played([withBattery({ kwh: 0 })])
    expect(first(options).costs.batteryEarnings).toBeCloseTo(0, 12)
    const kinds = first(options).populations.map(({ kind }) => kind)
    expect(kinds).toEqual(['string-inverter', 'battery', 'battery-inverter'])
  })

  test('four times the value never makes it dearer', async () => {
    const down = { failure: failsAt(5), downtime: { respond_days: 300 } }
    const at = async (value: number): Promise<number> =>
      first((await played([withBattery({ value_per_day: value }, down)])).options).lifetimeCost.mean
    expect(await at(4)).toBeLessThan(await at(1))
  })
})

describe('O7 a battery whose worth is not given', () => {
  const plain = single({}, { upfront_cost: 5000 })
  const unknown = option('Included', 'string', [unit('string-inverter')], { upfront_cost: 8000, includes: ['battery'] })

  test('gets no verdict against an option without one, and is no part of the lowest two', async () => {
    const other = single({}, { upfront_cost: 7900 }, 'Other')
    const { comparisons, options, switchPoints } = await played([plain, unknown, other], FREE)
    expect(options.map(({ batteryWorth }) => batteryWorth)).toEqual(['none', 'unknown', 'none'])
    const verdicts = comparisons.map(({ option: id, against, verdict }) => [id, against, verdict === null])
    expect(verdicts).toEqual([
      ['B', 'A', true],
      ['C', 'A', false],
      ['B', 'C', true],
    ])
    expect(switchPoints.every(point => point.option !== 'B')).toBe(true)
  })

  test('two of them are compared; alone among options without, nothing is left to rank but the other', async () => {
    const twin = option('Twin', 'string', [unit('string-inverter')], { upfront_cost: 8500, includes: ['battery'] })
    expect(first((await played([unknown, twin], FREE)).comparisons).verdict).not.toBeNull()
    expect((await played([plain, unknown], FREE)).switchPoints).toEqual([])
  })

  test('what it would have to earn a day brings both to the same cost, outages counted', async () => {
    const down = { failure: failsAt(6), downtime: { respond_days: 50 } }
    const over = { discount_rate: 0.03 }
    const blocks = [plain, withBattery({ backup: true }, down)]
    const pair = first((await played(blocks, over)).comparisons)
    expect(pair.verdict).toBeNull()
    const perDay = pair.batteryWouldHaveToEarnPerDay ?? Number.NaN
    const told = first((await played([plain, withBattery({ value_per_day: perDay }, down)], over)).comparisons)
    expect(Math.abs(told.meanDifference)).toBeLessThan(1e-6)
    expect(told.verdict).toBe('no difference worth naming')
    // a pair whose battery has a value has the same figure
    expect(told.batteryWouldHaveToEarnPerDay).toBeCloseTo(perDay, 9)
  })

  test('null where both have one, or neither', async () => {
    const both = [withBattery({ value_per_day: 1 }), withBattery({ value_per_day: 2 }, {}, 'Other')]
    expect(first((await played(both)).comparisons).batteryWouldHaveToEarnPerDay).toBeNull()
    const neither = [plain, single({}, { upfront_cost: 6000 }, 'Two')]
    expect(first((await played(neither)).comparisons).batteryWouldHaveToEarnPerDay).toBeNull()
  })
})

test('X2: the scale of a precision is the cost before battery earnings: one that earns more than it costs ends early too', async () => {
  const failing = { failure: { shape: 2, characteristic_life_years: 12, model_spread: 0, bad_batch: { chance: 0 } } }
  const blocks = world([withBattery({ value_per_day: 4 }, failing)], FREE)
  const { draws, options } = await play(blocks, { draws: 40_000, precision: 0.01 })
  expect(first(options).lifetimeCost.mean).toBeLessThan(0)
  expect(draws).toBe(4000)
})
