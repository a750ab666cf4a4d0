import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readScenario } from '../../src/scenario/read-scenario.ts'

const QUOTE = `
currency: EUR
prices_from_evidence: yes
site:
  panels: 24
  panel_w: 430
  location: {latitude: 48}
  generation: {annual_kwh: 9400}
  energy_value: {import_price_per_kwh: 0.30, export_price_per_kwh: 0.08}
options:
  - {name: A, topology: string, upfront_cost: 10900, inverter_kw: 8, battery_kwh: 10}
`
const looksAgain = (text: string): string[] =>
  readScenario(text, 'q.yaml', 'examples')
    .notes.filter(({ code }) => code === 'look-again')
    .map(({ text }) => text)

test('an honest quote is not asked to look again', () => {
  expect(looksAgain(QUOTE)).toEqual([])
})

test.each([
  ['annual_kwh: 9400', 'annual_kwh: 24', 'the energy of a year: 24 kWh from 24 panels is 1 kWh for each'],
  ['0.08', '8', 'the price of a kWh sold: that is 27 times what you buy at'],
  ['10900', '10.9', 'the price of A: 10.9 for 24 panels'],
  ['inverter_kw: 8', 'inverter_kw: 80', 'the rating of A: an inverter of 80 kW for 10 kW of panels'],
  ['battery_kwh: 10', 'battery_kwh: 10000', 'the battery of A: that is more than the roof gives'],
])('%s as %s is', (written, slip, said) => {
  expect(looksAgain(QUOTE.replace(written, slip))).toEqual([expect.stringContaining(`Look again at ${said}`)])
})

test('none of the examples is', () => {
  for (const name of ['home-four-topologies', 'budget-or-robust', 'business-export-limit', 'measured-year'])
    expect(looksAgain(example(name))).toEqual([])
})

function example(name: string): string {
  return readFileSync(`examples/${name}.yaml`, 'utf8')
}
