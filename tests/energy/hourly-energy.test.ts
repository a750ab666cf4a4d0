import { describe, expect, test } from 'vitest'
import { calendarOf } from '../../src/energy/calendar.ts'
import { hourlyEnergy } from '../../src/energy/hourly-energy.ts'
import { loadKw } from '../../src/energy/load-year.ts'
import { DESIGN_LOSSES } from '../../src/energy/option-energy.ts'
import { skyYear } from '../../src/energy/sky/sky-year.ts'
import { roofFigures } from '../../src/scenario/complete/roof-figures.ts'
import type { HourlyGeneration } from '../../src/scenario/roof.ts'
import { DAYS_OF_MONTH } from '../../src/units.ts'
import { option, PLACE, population, site, stringOption } from './roofs.ts'

/** A made-up year: 6 kW at noon in summer, 2 kW in winter. */
const hourlyKwh = Float64Array.from({ length: 8760 }, (_, hour) => {
  const top = 4 - 2 * Math.cos((2 * Math.PI * hour) / 8760)
  return Math.max(0, top * Math.sin((Math.PI * ((hour % 24) - 6)) / 12))
})

function generation(changes: Partial<HourlyGeneration> = {}): HourlyGeneration {
  return {
    form: 'hourly',
    hourlyKwh,
    asQuotedFor: null,
    includesDowntime: 0,
    degradation: 0,
    figures: { ...roofFigures(), subHourlyUplift: 1 },
    ...changes,
  }
}

const sum = (column: Float64Array | undefined): number => column?.reduce((a, b) => a + b, 0) ?? 0

describe('E7 hourly generation', () => {
  test('clipping is that of the hours, times the factor for what hourly means hide', () => {
    const at = generation()
    const [plain] = hourlyEnergy(site(at), at, [stringOption(5)], calendarOf(1, 1))
    const expected = hourlyKwh.reduce((total, kwh) => total + Math.max(0, kwh - 5), 0)
    expect(sum(plain?.designLossKwh.clipping)).toBeCloseTo(expected, 6)
    const lifted = generation({ figures: roofFigures() })
    const [more] = hourlyEnergy(site(lifted), lifted, [stringOption(5)], calendarOf(1, 1))
    expect(sum(more?.designLossKwh.clipping)).toBeCloseTo(1.3 * expected, 6)
  })

  test('C7 balance closes with design losses, an export limit and a load', () => {
    const at = generation({ degradation: 0.006 })
    const network = {
      phases: 1,
      acLimitKwPerPhase: null,
      exportLimitKw: 3,
      maxDcAcRatio: 1.33,
      netsAcrossPhases: true,
    } as const
    const design = option('string', [population('string-inverter', { acKw: 5 })], {
      designLosses: { mismatchAndShade: 0.02, clipping: 0, conversion: 0.01 },
    })
    const load = { form: 'hourly', hourlyKwh: new Float64Array(8760).fill(0.5) } as const
    const [energy] = hourlyEnergy(site(at, { network, load }), at, [design], calendarOf(6, 20))
    energy?.idealKwh.forEach((ideal, month) => {
      const lost = DESIGN_LOSSES.reduce((total, loss) => total + (energy.designLossKwh[loss][month] ?? 0), 0)
      expect(Math.abs(ideal - lost - (energy.deliverableKwh[month] ?? 0))).toBeLessThan(1e-9)
    })
    expect(sum(energy?.designLossKwh.exportLimit)).toBeGreaterThan(0)
    expect(sum(energy?.designLossKwh.shadeAndMismatch)).toBeCloseTo(0.02 * sum(energy?.idealKwh), 6)
  })

  test('kWh quoted for an option have its own losses and downtime backed out once', () => {
    const design = option('string', [population('string-inverter')], {
      designLosses: { mismatchAndShade: 0.05, clipping: 0.01, conversion: 0 },
    })
    const at = generation({ asQuotedFor: 0, includesDowntime: 0.02 })
    const [energy] = hourlyEnergy(site(at), at, [design], calendarOf(1, 1))
    expect(sum(energy?.idealKwh)).toBeCloseTo(sum(hourlyKwh) / 0.94 / 0.98, 6)
    expect(sum(energy?.deliverableKwh)).toBeCloseTo(sum(hourlyKwh) / 0.98, 6)
  })
})

describe('C5 load', () => {
  const sky = skyYear(PLACE, roofFigures())
  test('a flat hourly load on a built year is the flat load', () => {
    const flat = loadKw({ form: 'flat', annualKwh: 4380 }, sky)
    const hourly = loadKw({ form: 'hourly', hourlyKwh: new Float64Array(8760).fill(0.5) }, sky)
    hourly.forEach((kw, step) => {
      expect(kw).toBeCloseTo(flat[step] ?? -1, 12)
    })
  })

  test('a day-evening load keeps its yearly energy, twice as high from 17 to 23 h', () => {
    const steps = {
      form: 'synthetic',
      nSteps: 24,
      month: new Uint8Array(24),
      slot: new Uint16Array(24),
      solarHour: Float64Array.from({ length: 24 }, (_, i) => i + 0.5),
    } as const
    const load = loadKw({ form: 'day-evening', annualKwh: 3650 }, steps)
    expect(sum(load)).toBeCloseTo(10, 12)
    expect(load[18]).toBeCloseTo(2 * (load[12] ?? 0), 12)
  })

  test('an hourly load keeps the energy of each month when its days are distributed', () => {
    const wild = Float64Array.from({ length: 8760 }, (_, hour) => (Math.floor(hour / 24) % 7) + (hour % 24) / 24)
    const steps = {
      form: 'synthetic',
      nSteps: 15 * 24,
      month: new Uint8Array(15 * 24),
      slot: Uint16Array.from({ length: 360 }, (_, i) => Math.floor(i / 24)),
      solarHour: Float64Array.from({ length: 360 }, (_, i) => (i % 24) + 0.5),
    } as const
    const dealt = sum(loadKw({ form: 'hourly', hourlyKwh: wild }, steps)) * ((DAYS_OF_MONTH[0] ?? 0) / 15)
    expect(dealt).toBeCloseTo(sum(wild.subarray(0, 31 * 24)), 6)
  })
})
