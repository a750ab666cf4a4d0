import { describe, expect, test } from 'vitest'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { put, read, world } from '../worlds.ts'

const QUOTE = `
currency: EUR
prices_from_evidence: yes
site:
  panels: 20
  location: {latitude: 48}
  generation: {annual_kwh: 9400}
  energy_value: {import_price_per_kwh: 0.300, export_price_per_kwh: 0.080}
options:
  - {name: A, topology: string, upfront_cost: 6900, inverter_kw: 7.600, warranty: 10 years}
`
const problemsOf = (text: string): string => {
  try {
    readScenario(text, 'q.yaml', '.')
  } catch (error) {
    return (error as Error).message
  }
  return ''
}

describe('a point between thousands', () => {
  test('is questioned in money and in a year of kWh', () => {
    const written = QUOTE.replace('6900', '10.900').replace('9400', '9.400')
    expect(problemsOf(written)).toBe(
      [
        'q.yaml:7:16  site.generation.annual_kwh',
        '  found 9.400; write 9400 if the point separates thousands, else 9.4',
        'q.yaml:10:33  options.0.upfront_cost',
        '  found 10.900; write 10900 if the point separates thousands, else 10.9',
      ].join('\n'),
    )
    expect(problemsOf(QUOTE.replace('6900', '{low: 1, high: 2}'))).not.toContain('thousands')
  })

  test('is no fault in prices of a kWh, ratings and shares', () => {
    expect(problemsOf(QUOTE)).toBe('')
  })

  test('is questioned in a range, and not in a share of cover', () => {
    const component =
      '{kind: string-inverter, replacement: {parts: {low: 1.500, high: 2.000}}, warranty: {parts: 1.000}}'
    const written = QUOTE.replace('warranty: 10 years', `components: [${component}]`)
    expect(problemsOf(written).match(/if the point separates thousands/g)).toHaveLength(2)
  })
})

test('a decimal comma inside braces is named', () => {
  expect(problemsOf(QUOTE.replace('latitude: 48', 'latitude: 48,2'))).toContain(
    'found 2 after a comma, which separates keys; write decimals with a point, like 48.2',
  )
})

describe('what is listed is what is read', () => {
  const roof = {
    horizon_years: 10,
    prices_from_evidence: { factor: 1 },
    site: {
      location: { latitude: 47, climate: 'temperate' },
      generation: { arrays: [{ name: 's', panels: 10, panel_w: 400, tilt: 30, azimuth: 180 }] },
      energy_value: { import_price_per_kwh: 0.3, export_price_per_kwh: 0.1 },
    },
    options: [
      { name: 'S', topology: 'string', upfront_cost: 1, components: [{ kind: 'string-inverter', ac_kw: 4 }] },
      {
        name: 'H',
        topology: 'hybrid',
        upfront_cost: 1,
        components: [{ kind: 'hybrid-inverter', ac_kw: 4, weighted_efficiency: 0.97 }],
      },
    ],
  }
  const keysOf = (over: object) => read(put(roof, { ...over })).assumptions.map(({ key }) => key)

  test('E3: with arrays the efficiency of every inverter is on the list, yours or a judgement', () => {
    const efficiencies = read(roof).assumptions.filter(({ key }) => key.endsWith('weighted_efficiency'))
    expect(efficiencies.map(({ key, value, known }) => [key, value, known])).toEqual([
      ['S / string-inverter / weighted_efficiency', 0.972, 'judgement'],
      ['H / hybrid-inverter / weighted_efficiency', 0.97, 'yours'],
    ])
    const months = world([{ ...roof.options[0], components: [{ kind: 'string-inverter' }] }], {
      prices_from_evidence: { factor: 1 },
    })
    expect(read(months).assumptions.some(({ key }) => key.endsWith('weighted_efficiency'))).toBe(false)
  })

  test('C5: with a load no share of self-consumption is listed', () => {
    expect(keysOf({})).toContain('site.energy_value.self_consumed')
    expect(keysOf({ site: { load: { annual_kwh: 3000 } } })).not.toContain('site.energy_value.self_consumed')
  })

  test('C5: a file of the meter is named', () => {
    const load = { shape: { hourly_csv: 'examples/workshop-use.csv' } }
    const { assumptions } = read(put(roof, { site: { load } }))
    expect(assumptions.find(({ key }) => key === 'site.load.shape')?.value).toBe('examples/workshop-use.csv')
  })
})
