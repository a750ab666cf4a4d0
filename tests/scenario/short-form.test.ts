import { describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { parseYaml } from '../../src/input/yaml.ts'
import { middle } from '../../src/scenario/quantity.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { bearing } from '../../src/scenario/short-form/bearing.ts'
import { fullForm } from '../../src/scenario/short-form/index.ts'
import { kindMeant, topologyMeant } from '../../src/scenario/short-form/trade-words.ts'
import { yearsWord } from '../../src/scenario/short-form/years-word.ts'

const SITE = `site:
  panels: 20
  generation: {annual_kwh: 6500}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
`
const quote = (words: string, head = 'prices_from_evidence: yes\n') =>
  `${head}${SITE}options:\n  - {name: A, upfront_cost: 7000, ${words}}\n`
const read = (text: string) => readScenario(text, 'quote.yaml', '.')
const full = (text: string) => fullForm(parseYaml(text, 'quote.yaml'))
const told = (text: string) => {
  try {
    read(text)
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'nothing is wrong'
}
const optionOf = (text: string) => (full(text).source.value as { options: readonly unknown[] }).options[0]

describe('short form: a word of a quote means the full form', () => {
  test.each([
    [
      'topology: string, warranty: 25',
      { topology: 'string', components: [{ kind: 'string-inverter', warranty: { years: 25 } }] },
      ['options.0.warranty: 25 → warranty: {years: 25} of the string-inverter, cover of parts'],
    ],
    [
      'topology: string, warranty: 25 years, inverter_kw: 5, tier: robust',
      {
        topology: 'string',
        components: [{ kind: 'string-inverter', ac_kw: 5, tier: 'robust', warranty: { years: 25 } }],
      },
      [
        'options.0.inverter_kw: 5 → ac_kw: 5 of the string-inverter',
        'options.0.tier: robust → tier: robust of the string-inverter',
        'options.0.warranty: 25 years → warranty: {years: 25} of the string-inverter, cover of parts',
      ],
    ],
    [
      'topology: Micro-inverters, inverter_kw: 0.35',
      { topology: 'panel-level', components: [{ kind: 'panel-level-unit', ac_kw: 0.35 }] },
      [
        'options.0.topology: Micro-inverters → topology: panel-level',
        'options.0.inverter_kw: 0.35 → ac_kw: 0.35 of the panel-level-unit',
      ],
    ],
    [
      'topology: power optimizers, optimisers: 6',
      {
        topology: 'string-some-optimisers',
        components: [{ kind: 'string-inverter' }, { kind: 'optimiser', count: 6 }],
      },
      [
        'options.0.topology: power optimizers → topology: string-some-optimisers',
        'options.0.optimisers: 6 → count: 6 of the optimiser',
      ],
    ],
    [
      'topology: DC optimisers',
      { topology: 'string-optimisers', components: [{ kind: 'string-inverter' }, { kind: 'optimiser' }] },
      ['options.0.topology: DC optimisers → topology: string-optimisers'],
    ],
    [
      'topology: hybrid inverter, inverter_kw: 6',
      { topology: 'hybrid', components: [{ kind: 'hybrid-inverter', ac_kw: 6 }] },
      [
        'options.0.topology: hybrid inverter → topology: hybrid',
        'options.0.inverter_kw: 6 → ac_kw: 6 of the hybrid-inverter',
      ],
    ],
    [
      'topology: string, components: [{kind: inverter, warranty: 12}], warranty_offers: [{component: solar inverter, years: 15, price: 300}]',
      {
        topology: 'string',
        components: [{ kind: 'string-inverter', warranty: { years: 12 } }],
        warranty_offers: [{ component: 'string-inverter', years: 15, price: 300 }],
      },
      [
        'options.0.components.0.kind: inverter → kind: string-inverter',
        'options.0.warranty_offers.0.component: solar inverter → kind: string-inverter',
        'options.0.components.0.warranty: 12 → warranty: {years: 12}, cover of parts',
      ],
    ],
  ])('%s', (words, option, taken) => {
    const text = quote(words)
    expect(optionOf(text)).toEqual({ name: 'A', upfront_cost: 7000, ...option })
    expect(read(text).taken.map(({ key, written, as }) => `${key}: ${written} → ${as}`)).toEqual(taken)
  })

  test('a panel rating that the quotes state is that of the site; two unlike ones are refused', () => {
    const two = (watts: number) =>
      `${quote('topology: string, panel_w: 440')}  - {name: B, topology: panel-level, upfront_cost: 9000, panel_w: ${watts}}\n`
    expect(read(two(440)).site.panelW).toBe(440)
    expect(told(two(400))).toBe(
      'quote.yaml:8:58  options.1.panel_w\n  found 400 W and 440 W; all options share the panels of the site: give each quote a scenario of its own, or one panel_w under "site"',
    )
  })

  test('arrays take the rating of the site, compass words, and a name by where they face', () => {
    const text = `prices_from_evidence: yes
site:
  panel_w: 440
  location: {latitude: -33.9, climate: sunny}
  generation: {arrays: [{panels: 12, tilt: 22, azimuth: north-west}, {panels: 6, tilt: 22, azimuth: NE, shade: light}]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
options: [{name: A, topology: string, upfront_cost: 7000, inverter_kw: 6}]
`
    const { generation } = read(text).site
    const arrays = generation.form === 'arrays' ? generation.arrays : []
    expect(arrays.map(({ name, panels, panelW, azimuthDegrees }) => [name, panels, panelW, azimuthDegrees])).toEqual([
      ['north-west', 12, 440, 315],
      ['north-east', 6, 440, 45],
    ])
  })

  test('a year as start is its January; the word no takes no prices from evidence', () => {
    expect(read(quote('topology: string', 'start: 2027\nprices_from_evidence: yes\n')).start).toBe('2027-01')
    expect(told(quote('topology: string', 'prices_from_evidence: no\n'))).toContain('typical is 200 USD')
  })

  test('a second pass changes nothing, and the full form has no words to take', () => {
    const once = full(quote('topology: micro-inverters, warranty: 25 years, inverter_kw: 0.35'))
    const twice = fullForm(once.source)
    expect(twice.source.value).toEqual(once.source.value)
    expect(twice.taken).toEqual([])
  })
})

describe('a message about what a word was taken as names the word and its place', () => {
  test.each([
    [
      'topology: string, inverter_kw: five',
      'quote.yaml:7:53  options.0.inverter_kw\n  found "five"; allowed: a number above 0, at most 100,000 kW',
    ],
    [
      'topology: string, warranty: 250 years',
      'quote.yaml:7:53  options.0.warranty\n  found 250; allowed: a number from 0 to 100 years',
    ],
    [
      'topology: hybrid, tier: robust',
      'quote.yaml:7:53  options.0.tier\n  found "robust" on a hybrid inverter; only a string-inverter has tiers: drop it',
    ],
    [
      'topology: some optimisers, optimisers: 2.5',
      'quote.yaml:7:62  options.0.optimisers\n  found 2.5; allowed: a whole number from 1 to 100,000 units',
    ],
    [
      'topology: string, inverter_kw: 5, components: [{kind: string-inverter, ac_kw: 6}]',
      'quote.yaml:7:53  options.0.inverter_kw\n  "inverter_kw" and "ac_kw" of the component listed say the same; keep one of the two',
    ],
    [
      'topology: micro-inverters, inverter_kw: 5.8',
      'quote.yaml:7:62  options.0.inverter_kw\n  found 5.8 kW; here it is the rating of one unit behind one panel: write  inverter_kw: 0.29',
    ],
    [
      'topology: string, optimisers: 6',
      'quote.yaml:7:53  options.0.optimisers\n  topology "string" has no optimisers; write  topology: string-some-optimisers   # or string-optimisers, one on each panel',
    ],
  ])('%s', (words, message) => {
    expect(told(quote(words))).toBe(message)
  })
})

describe('annual_kwh alone', () => {
  const months = (location: string) => {
    const { site, notes } = read(quote('topology: string').replace('  generation', `  ${location}\n  generation`))
    const kwh = site.generation.form === 'monthly' ? site.generation.monthlyKwh : []
    return { kwh, notes: notes.map(note => note.text).filter(text => text.startsWith('The yearly energy')) }
  }
  test('is spread over the months by the latitude, by a climate word, or as in a temperate climate, and says so', () => {
    const south = months('location: {latitude: -33.9}')
    expect(south.kwh.reduce((sum, month) => sum + month, 0)).toBeCloseTo(6500, 9)
    expect(south.kwh[0]).toBeGreaterThan(1.2 * (south.kwh[6] ?? 0))
    expect(south.notes).toEqual([
      "The yearly energy is spread over the months as usual at latitude -33.9; each month's share is known to about 1.5 percentage points.",
    ])
    expect(months('location: {climate: dry}').notes[0]).toContain('in a dry climate at latitude 30 north')
    const usual = months('')
    expect(usual.kwh[5]).toBeGreaterThan(2 * (usual.kwh[11] ?? 0))
    expect(usual.notes).toEqual([
      'The yearly energy is spread over the months as in a temperate climate at latitude 47 north. Elsewhere write site: location: {latitude: …}, south of the equator below zero.',
    ])
  })
  test.each([
    [
      'location: {latitude: 47, monthly_air_temperature_c: [0,0,0,0,0,0,0,0,0,0,0,0]}',
      'leave "monthly_air_temperature_c" out',
    ],
    ['load: {annual_kwh: 4000}', '"load" needs the hours of the energy'],
  ])('takes no %s', (line, message) => {
    expect(told(quote('topology: string').replace('  generation', `  ${line}\n  generation`))).toContain(message)
  })
})

describe('prices_from_evidence: yes', () => {
  test('takes the factor of the currency from the evidence, with its date and source', () => {
    const scenario = read(quote('topology: string', 'currency: AUD\nprices_from_evidence: yes\n'))
    expect(scenario.assumptions.find(({ key }) => key === 'prices_from_evidence.factor')).toMatchObject({
      value: 1.51,
      known: 'recalled',
      source: expect.stringMatching(/means of 2024 \(recalled/),
    })
    expect(middle(scenario.visit.callOut)).toBeCloseTo(200 * 1.51, 9)
  })
  test('in the currency of the evidence it is 1 and no assumption', () => {
    const scenario = read(quote('topology: string', 'currency: USD\nprices_from_evidence: yes\n'))
    expect(middle(scenario.visit.callOut)).toBe(200)
    expect(scenario.assumptions.filter(({ key }) => key.startsWith('prices_from'))).toEqual([])
  })
  test('asks for the factor where the evidence has none', () => {
    expect(told(quote('topology: string', 'currency: XAU\nprices_from_evidence: yes\n'))).toBe(
      'quote.yaml:2:1  prices_from_evidence\n  the evidence knows no rate for XAU; write prices_from_evidence: {factor: 1.5}, with what one USD costs in XAU in place of 1.5',
    )
  })
})

test('spelling, hyphens and plurals of the trade words do not matter; what is no word is left alone', () => {
  expect(['micro-inverter', 'Microinverters', 'micro inverters', 'MICRO', 'panel_level'].map(topologyMeant)).toEqual(
    Array(5).fill('panel-level'),
  )
  expect(['power optimizer', 'DC-optimisers', 'string with optimizers'].map(topologyMeant)).toEqual(
    Array(3).fill('string-optimisers'),
  )
  expect(['', 'wind', 'constructor', '__proto__'].map(topologyMeant)).toEqual([null, null, null, null])
  expect(kindMeant('home batteries', null)).toBe('battery')
  expect(kindMeant('inverter', 'hybrid-inverter')).toBe('hybrid-inverter')
  expect(kindMeant('inverter', null)).toBe(null)
  expect(['north', 'NW', 'south west', 'south-facing', 'east-north-east', 'up'].map(bearing)).toEqual([
    0,
    315,
    225,
    180,
    67.5,
    null,
  ])
  expect(['25', '25 years', '25-year', '10 yrs', '2.5 y', 'long', '10 months', null].map(yearsWord)).toEqual([
    25,
    25,
    25,
    10,
    2.5,
    null,
    null,
    null,
  ])
})
