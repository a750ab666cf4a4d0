import { describe, expect, test } from 'vitest'
import { calendarOf } from '../../src/energy/calendar.ts'
import { powerOnItsWay } from '../../src/energy/harvest/delivery.ts'
import { loadKw } from '../../src/energy/load-year.ts'
import { householdOf } from '../../src/energy/meter.ts'
import { energyOfOptions } from '../../src/energy/options-energy.ts'
import { partialLossOf } from '../../src/energy/partial-loss.ts'
import { optionOnRoof, roofEnergy } from '../../src/energy/roof-energy.ts'
import { roofYear } from '../../src/energy/roof-year.ts'
import type { Site } from '../../src/scenario/model.ts'
import { loadScenario } from '../../src/scenario/read-scenario.ts'
import { array, optimisedOption, panelOption, roofOf, site } from './roofs.ts'

const JUNE = 5
const network = (exportLimitKw: number | null): Site['network'] => ({
  phases: 1,
  acLimitKwPerPhase: null,
  exportLimitKw,
  maxDcAcRatio: 1.33,
  netsAcrossPhases: true,
})
/** One hour of June, given by hand. */
const hour = { nSteps: 1, month: Uint8Array.of(JUNE), hours: Float64Array.of(1) }
const twenty = 2

describe('C5 one of twenty units down', () => {
  const power = { limitedKw: (factor: number) => Float64Array.of(6 * factor), oneLimit: false }

  test('in an hour over the export limit it loses nothing; in one just over it, less than 1/20', () => {
    const lost = (exportLimitKw: number): number => {
      const meter = { loadKw: Float64Array.of(0.5), loadReach: 1, exportLimitKw, acWiringLoss: 0 }
      const table = partialLossOf(hour, power, meter, true)
      return table?.lostShare[JUNE * table.shares.length + twenty] ?? Number.NaN
    }
    // 6 kW made, 5.7 kW with one unit down; 0.5 kW used and the rest sold up to the limit
    expect(lost(5)).toBe(0)
    expect(lost(5.3)).toBeCloseTo(0.1 / 5.8, 12)
    expect(lost(9)).toBeCloseTo(1 / 20, 12)
  })

  test('its value with a load is the difference of two splits', () => {
    const used = (drawKw: number): number => {
      const meter = { loadKw: Float64Array.of(drawKw), loadReach: 1, exportLimitKw: null, acWiringLoss: 0 }
      const table = partialLossOf(hour, power, meter, true)
      return (table?.lostSelfUsedShare?.[JUNE * (table?.shares.length ?? 0) + twenty] ?? Number.NaN) * 6
    }
    // at a draw of 2 kW nothing self-used is lost, at 5.9 kW 0.2 of the 0.3 kW, at 8 kW all of it
    expect(used(2)).toBe(0)
    expect(used(5.9)).toBeCloseTo(0.2, 12)
    expect(used(8)).toBeCloseTo(0.3, 12)
  })

  test('over a year: less than 1/20 behind an export limit, by as much as two splits of each hour differ', () => {
    const roof = roofOf([array({ panels: 20, mounting: 'open' })], { degradation: 0 })
    const load = { form: 'day-evening', annualKwh: 4000 } as const
    const limited = site(roof, { network: network(4), load })
    const [energy] = roofEnergy(limited, roof, [panelOption(20, 0.4)], calendarOf(1, 1))
    const table = energy?.partialLoss
    const lost = table?.lostShare[JUNE * table.shares.length + twenty] ?? Number.NaN
    expect(lost).toBeLessThan(0.045)
    expect(lost).toBeGreaterThan(0.02)
    // by hand: the split of every half-hour, with all units and without one
    const year = roofYear(roof)
    const on = optionOnRoof(year, householdOf(limited, year.sky, year.idealKw), limited, panelOption(20, 0.4))
    const { limitedKw } = powerOnItsWay(year.idealKw, on.harvest.devices, 1, 1)
    const draw = loadKw(load, year.sky)
    const split = (share: number): { kwh: number; usedKwh: number } => {
      let kwh = 0
      let usedKwh = 0
      limitedKw.forEach((kw, step) => {
        if (year.sky.month[step] !== JUNE) return
        const made = kw * share * (1 - on.meter.acWiringLoss)
        const used = Math.min(made, draw[step] ?? 0)
        kwh += (used + Math.min(made - used, 4)) * (year.sky.hours[step] ?? 0)
        usedKwh += used * (year.sky.hours[step] ?? 0)
      })
      return { kwh, usedKwh }
    }
    const [whole, left] = [split(1), split(0.95)]
    expect(lost).toBeCloseTo((whole.kwh - left.kwh) / whole.kwh, 9)
    expect(table?.lostSelfUsedShare?.[JUNE * (table?.shares.length ?? 0) + twenty]).toBeCloseTo(
      (whole.usedKwh - left.usedKwh) / whole.kwh,
      9,
    )
  })

  test('behind one inverter that clips, a panel of twenty costs less than 1/20', () => {
    const roof = roofOf([array({ panels: 20, mounting: 'open' })], { lossesShare: 0, degradation: 0 })
    const at = site(roof, { load: { form: 'flat', annualKwh: 3000 } })
    const [energy] = roofEnergy(at, roof, [optimisedOption(4.5, 20)], calendarOf(1, 1))
    const table = energy?.partialLoss
    expect(table?.lostShare[JUNE * table.shares.length + twenty]).toBeLessThan(0.045)
  })

  test('the workshop behind its export limit shows it', async () => {
    const scenario = await loadScenario('examples/business-export-limit.yaml')
    const [, units] = energyOfOptions(scenario, calendarOf(5, 20))
    const table = units?.partialLoss
    const n = table?.shares.length ?? 0
    const lost = (month: number): number => table?.lostShare[month * n + twenty] ?? Number.NaN
    expect(lost(JUNE)).toBeLessThan(0.045)
    // in December the limit is not reached as often
    expect(lost(11)).toBeGreaterThan(lost(JUNE))
  })
})
