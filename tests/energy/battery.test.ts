import { describe, expect, test } from 'vitest'
import { batteryValuePerDay } from '../../src/energy/battery/battery-year.ts'
import { dayGrid } from '../../src/energy/battery/day-grid.ts'
import { addedSelfConsumption } from '../../src/energy/battery/published-points.ts'
import { selfUseYear } from '../../src/energy/battery/self-use-year.ts'
import { loadKw } from '../../src/energy/load-year.ts'
import { skyYear } from '../../src/energy/sky/sky-year.ts'
import { roofFigures } from '../../src/scenario/complete/roof-figures.ts'
import { PLACE } from './roofs.ts'

test('O7 the published points: 0 → 0, 0.5 → 13, 1 → 24 points of self-consumption, straight between, flat beyond', () => {
  const points = [0, 0.25, 0.5, 0.75, 1, 5].map(addedSelfConsumption)
  const expected = [0, 0.065, 0.13, 0.185, 0.24, 0.24]
  points.forEach((share, i) => {
    expect(share).toBeCloseTo(expected[i] ?? Number.NaN, 12)
  })
})

const METER = { loadKw: null, loadReach: 1, exportLimitKw: null, acWiringLoss: 0 }
const PLAIN = { kwh: 5, kw: 3, roundTrip: 0.8, dcCoupled: false }

/** Hours of 365 equal days of a year, light in all of them. */
function yearOf(day: readonly number[]): Float64Array {
  return Float64Array.from({ length: 8760 }, (_, hour) => day[hour % 24] ?? 0)
}

const GRID = dayGrid({
  form: 'hourly',
  nSteps: 8760,
  month: new Uint8Array(8760),
  solarHour: new Float64Array(8760),
  slot: Uint16Array.from({ length: 8760 }, (_, hour) => hour),
})

function played(supply: readonly number[], load: readonly number[], over = {}, meter = {}, unlimited = supply) {
  return selfUseYear(
    GRID,
    { limitedKw: yearOf(supply), unlimitedKw: yearOf(unlimited) },
    yearOf(load),
    { ...METER, ...meter },
    { ...PLAIN, ...over },
  )
}

const NOON = Array.from({ length: 24 }, (_, hour) => (hour >= 11 && hour < 14 ? 4 : 0))
const HALF = new Array<number>(24).fill(0.5)

describe('O7 greedy self-use, by hand', () => {
  test('a day: 3 h of 3.5 kW over; charged 3, 3, 0.25 kWh until 5 kWh are in; 10 h of 0.5 kW come out again', () => {
    // 6.25 kWh charged fill 5 kWh at 80 %; 21 dark hours would take 10.5 kWh, so all 5 kWh go out each day
    const { dischargedKwh, unsoldKwh } = played(NOON, HALF)
    expect(dischargedKwh).toBeCloseTo(5 * 365, 6)
    expect(unsoldKwh).toBeCloseTo(6.25 * 365, 6)
  })

  test('the power limit: at 1 kW three hours charge 3 kWh, of which 2.4 come out', () => {
    const { dischargedKwh, unsoldKwh } = played(NOON, HALF, { kw: 1 })
    expect(dischargedKwh).toBeCloseTo(2.4 * 365, 6)
    expect(unsoldKwh).toBeCloseTo(3 * 365, 6)
  })

  test('what the export limit would cut is free: with 2 kW of export, 1.5 of the 3.5 kW cost nothing', () => {
    // charged 3, 3, 0.25: unsold 1.5, 1.5, 0 of them
    const { dischargedKwh, unsoldKwh } = played(NOON, HALF, {}, { exportLimitKw: 2 })
    expect(dischargedKwh).toBeCloseTo(5 * 365, 6)
    expect(unsoldKwh).toBeCloseTo(3 * 365, 6)
  })

  test('only a DC-coupled battery takes what the inverter clips', () => {
    const unlimited = NOON.map(kw => 1.25 * kw)
    expect(played(NOON, HALF, {}, {}, unlimited)).toEqual(played(NOON, HALF))
    // 1 kW clipped an hour: charged 3, 3, 0.25 of which 1, 1, 0.25 were clipped
    const { dischargedKwh, unsoldKwh } = played(NOON, HALF, { dcCoupled: true }, {}, unlimited)
    expect(dischargedKwh).toBeCloseTo(5 * 365, 6)
    expect(unsoldKwh).toBeCloseTo(4 * 365, 6)
  })

  test('no kWh move nothing', () => {
    expect(played(NOON, HALF, { kwh: 0 })).toEqual({ dischargedKwh: 0, unsoldKwh: 0 })
  })

  test('kWh without end make a perfect self-use: all that is over, or all that lacks, whichever is less', () => {
    const endless = { kwh: 1e9, kw: 1e9, roundTrip: 1 }
    // 10.5 kWh over, 10.5 kWh lacking a day; less light: all of it used; more light: all that lacks met
    const less = played(
      NOON.map(kw => kw / 2),
      HALF,
      endless,
    )
    expect(less.dischargedKwh).toBeCloseTo(4.5 * 365, 4)
    expect(less.unsoldKwh).toBeCloseTo(4.5 * 365, 4)
    const more = played(
      NOON.map(kw => 2 * kw),
      HALF,
      endless,
    )
    expect(more.dischargedKwh).toBeCloseTo(10.5 * 365, 4)
    // summer's surplus meets winter's need
    const season = Float64Array.from({ length: 8760 }, (_, hour) => (hour >= 3000 && hour < 6000 ? 2 : 0))
    const { dischargedKwh } = selfUseYear(
      GRID,
      { limitedKw: season, unlimitedKw: season },
      new Float64Array(8760).fill(0.6),
      METER,
      { ...PLAIN, ...endless },
    )
    expect(dischargedKwh).toBeCloseTo(Math.min(3000 * 1.4, 5760 * 0.6), 6)
  })

  test('a larger battery never gives less', () => {
    let before = -1
    for (const kwh of [0, 0.5, 1, 2, 4, 8, 16]) {
      const { dischargedKwh } = played(NOON, HALF, { kwh })
      expect(dischargedKwh).toBeGreaterThanOrEqual(before)
      before = dischargedKwh
    }
  })
})

test('the built year has its nights: a flat load of 8,760 kWh draws 1 kW at every half-hour, and light is where it was', () => {
  const sky = skyYear(PLACE, roofFigures())
  const grid = dayGrid(sky)
  const load = loadKw({ form: 'flat', annualKwh: 8760 }, grid)
  expect(load.every(kw => Math.abs(kw - 1) < 1e-12)).toBe(true)
  const hours = grid.times.reduce((sum, times) => sum + times * grid.stepHours, 0)
  expect(hours).toBeCloseTo(8760, 6)
  const lit = [...grid.light].filter(step => step >= 0)
  expect(lit).toHaveLength(sky.nSteps)
  expect(new Set(lit).size).toBe(sky.nSteps)
  grid.light.forEach((step, i) => {
    if (step >= 0) expect(Math.abs((sky.solarHour[step] ?? 0) - (grid.solarHour[i] ?? 0))).toBeLessThan(1e-9)
  })
})

describe('O7 worth a day', () => {
  test('played: bought energy saved less sold energy forgone', () => {
    const year = { form: 'played', dischargedKwh: 1460, unsoldKwh: 1825 } as const
    expect(batteryValuePerDay(year, { importPrice: 0.3, exportPrice: 0.08, selfConsumed: [] })).toBeCloseTo(0.8, 12)
    // where selling pays better, the battery is left idle
    expect(batteryValuePerDay(year, { importPrice: 0.1, exportPrice: 0.2, selfConsumed: [] })).toBe(0)
  })

  test('points: at most what self-use leaves, month by month', () => {
    const monthKwh = Float64Array.from([100, 200, ...new Array<number>(10).fill(0)])
    const year = { form: 'points', addedShare: 0.2, monthKwh, roundTrip: 0.9 } as const
    const prices = { importPrice: 0.36, exportPrice: 0.09, selfConsumed: [0.9, 0.3, ...new Array<number>(10).fill(0)] }
    expect(batteryValuePerDay(year, prices)).toBeCloseTo(((10 + 40) * (0.36 - 0.1)) / 365, 12)
  })
})
