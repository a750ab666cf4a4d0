import { expect, test } from 'vitest'
import { failsAt, first, option, playOptions, unit, weibull, world } from '../worlds.ts'

test('failures by what they stop: an inverter at 4 and 8, a gateway at 6, a battery at 9 of 11 years', async () => {
  const parts = [
    unit('string-inverter', { failure: failsAt(4) }),
    unit('gateway', { failure: failsAt(6) }),
    unit('battery', { failure: failsAt(9) }),
  ]
  const battery = { value_per_day: 1 }
  const { options } = await playOptions(world([option('One', 'string', parts, { battery })], { horizon_years: 11 }))
  const { failuresByEffect, failures } = first(options)
  const { stopEnergy, monitoringOnly, batteryOnly } = failuresByEffect
  expect([stopEnergy.mean, monitoringOnly.mean, batteryOnly.mean]).toEqual([2, 1, 1])
  expect(failures.mean).toBe(4)
  const from = (shares: readonly number[]): number => shares.indexOf(1)
  expect([stopEnergy, monitoringOnly, batteryOnly].map(one => from(one.atLeastOneByYear))).toEqual([5, 7, 10])
})

test('they add up to all failures, with ±, chance and planned replacements', async () => {
  const parts = [
    unit('string-inverter', { failure: weibull(1.5, 8), replace_at_age_years: 9 }),
    unit('gateway', { failure: weibull(1, 5) }),
    unit('battery', { failure: weibull(3, 9) }),
    unit('battery-inverter', { failure: weibull(2, 9) }),
  ]
  const battery = { value_per_day: { low: 1, high: 3 } }
  const { options } = await playOptions(world([option('One', 'string', parts, { battery })]), { draws: 400 })
  const { failuresByEffect, failures } = first(options)
  const sum = Object.values(failuresByEffect).reduce((total, { mean }) => total + mean, 0)
  expect(sum).toBeCloseTo(failures.mean, 9)
  failures.atLeastOneByYear.forEach((any, year) => {
    for (const { atLeastOneByYear } of Object.values(failuresByEffect)) {
      expect(atLeastOneByYear[year]).toBeLessThanOrEqual(any + 1e-12)
    }
  })
})
