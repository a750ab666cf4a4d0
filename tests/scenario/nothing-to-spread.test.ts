import { expect, test } from 'vitest'
import { playOptions, read, single, world } from '../worlds.ts'

const WITH_A_BATTERY = (kwh: number) =>
  world([single({}, { battery: { kwh } })], { prices_from_evidence: { factor: 0.92 }, site: { panel_w: 400 } })

test('U1a: a battery of 0 kWh has a price of 0 without a range, and its lifetimes have finite costs', async () => {
  const scenario = read(WITH_A_BATTERY(0))
  const battery = scenario.options[0]?.populations.find(({ kind }) => kind === 'battery')
  expect(battery?.prices.parts).toBe(0)
  const results = await playOptions(WITH_A_BATTERY(0))
  expect(Object.values(results.options[0]?.costs ?? {}).every(Number.isFinite)).toBe(true)
})

test('U1a: a battery of 5 kWh has a price with a range', () => {
  const battery = read(WITH_A_BATTERY(5)).options[0]?.populations.find(({ kind }) => kind === 'battery')
  expect(battery?.prices.parts).toMatchObject({ scale: 'log' })
})
