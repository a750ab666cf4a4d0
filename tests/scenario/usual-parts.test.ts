import { describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { middle } from '../../src/scenario/quantity.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'

const head = (panels: string) => `prices_from_evidence: {factor: 1}
site:
  ${panels}
  generation: {monthly_kwh: [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
options:
`
const read = (options: string, panels = 'panels: 20') => readScenario(head(panels) + options, 'quote.yaml', '.')
const told = (options: string, panels?: string) => {
  try {
    read(options, panels)
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'nothing is wrong'
}

describe('a quote of a price, a design, a number of panels and a warranty is enough', () => {
  test('without components an option has what its topology needs, one unit a panel where the design is so', () => {
    const scenario = read(
      ['string', 'hybrid', 'panel-level', 'string-optimisers']
        .map(topology => `  - {name: ${topology}, topology: ${topology}, upfront_cost: 7000}\n`)
        .join(''),
    )
    const parts = scenario.options.map(option => option.populations.map(({ kind, count }) => [kind, count]))
    expect(parts).toEqual([
      [['string-inverter', 1]],
      [['hybrid-inverter', 1]],
      [['panel-level-unit', 20]],
      [
        ['string-inverter', 1],
        ['optimiser', 20],
      ],
    ])
  })

  test('a warranty of the option is that of its first component', () => {
    const years = (options: string) =>
      read(options).options[0]?.populations.map(({ kind, warranty }) => [kind, warranty.years])
    const quote = '  - name: A\n    topology: string-optimisers\n    upfront_cost: 7000\n    warranty: {years: 12}\n'
    const usual = years(quote.replace('12', '25'))?.[1]
    expect(years(quote)).toEqual([['string-inverter', 12], usual])
    const listed = `${quote}    components: [{kind: optimiser}, {kind: string-inverter}]\n`
    expect(years(listed)?.[0]).toEqual(['optimiser', 12])
    expect(told(listed.replace('optimiser}', 'optimiser, warranty: {years: 9}}'))).toBe(
      'quote.yaml:10:5  options.0.warranty\n  the first component has a warranty of its own; keep one of the two',
    )
    expect(told(quote.replace('years: 12', 'years: ten'))).toBe(
      'quote.yaml:10:16  options.0.warranty.years\n  found "ten"; allowed: a number from 0 to 100 years',
    )
  })

  test.each([
    ['0,30', '; write 0.30'],
    ['"6,900"', '; write 6900'],
    ['1,250.5', '; write 1250.5'],
    ['€6900', '; write 6900'],
    ['6900 EUR', '; write 6900'],
    ['dear', ''],
    ['1.2.3', ''],
  ])('a price written as %s is refused and written right', (written, right) => {
    const found = JSON.stringify(written.replaceAll('"', ''))
    expect(
      told(`  - {name: A, topology: string, upfront_cost: ${JSON.stringify(written.replaceAll('"', ''))}}\n`),
    ).toBe(
      `quote.yaml:7:33  options.0.upfront_cost\n  found ${found}; allowed: an amount of money from 0 to 1,000,000,000${right}`,
    )
  })

  test('an unknown topology is the only problem reported', () => {
    expect(told('  - {name: A, topology: macro, upfront_cost: 7000}\n')).toBe(
      'quote.yaml:7:15  options.0.topology\n  found "macro"; allowed: one of string, hybrid, panel-level, string-optimisers, string-some-optimisers',
    )
  })

  test('a missing % sign is pointed out', () => {
    expect(
      told('  - {name: A, topology: string, upfront_cost: 7000, labour_provider: {exit_rate_per_year: 6}}\n'),
    ).toMatch(/found 6; .*; if you mean 6 %, write 6%$/)
  })

  test('a rating is estimated for the price of parts alone, called a judgement, with a note', () => {
    const scenario = read(
      '  - {name: A, topology: string, upfront_cost: 7000, components: [{kind: string-inverter, count: 2, warranty: {years: 12}}]}\n',
    )
    const [population] = scenario.options[0]?.populations ?? []
    expect(population?.acKw).toBe(null)
    // 20 panels of 0.33 kW on two inverters, at 180 USD a kW.
    expect(middle(population?.prices.parts ?? 0)).toBeCloseTo(180 * 3.3, 9)
    expect(scenario.assumptions.find(({ key }) => key.endsWith('replacement.parts'))).toMatchObject({
      known: 'judgement',
      source: expect.stringMatching(/180 USD × 3\.3 kW × 1; kW estimated$/),
    })
    expect(scenario.notes.map(note => note.text)).toContain(
      'A: no rating is given for its string-inverter; its parts are priced as for 3.3 kW, estimated from the panels.',
    )
  })

  test('where the panels are not known either, the message says what to give', () => {
    expect(told('  - {name: A, topology: string, upfront_cost: 7000}\n', '')).toContain(
      'missing; the evidence has 180 USD a kW: give "ac_kw", this price or site.panels',
    )
  })

  test('optimisers on some panels have to be counted', () => {
    expect(told('  - {name: A, topology: string-some-optimisers, upfront_cost: 7000}\n')).toContain(
      'options.0.optimisers\n  missing; needed: how many panels have an optimiser, e.g. optimisers: 6',
    )
  })
})
