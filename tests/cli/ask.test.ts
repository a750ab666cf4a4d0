import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, inject, test } from 'vitest'
import { scenarioText } from '../../src/cli/ask/scenario-text.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { halfHours } from '../scenario/quotes/half-hours.ts'
import { run } from './run.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-ask-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const terminal = spawnSync('python3', ['-c', 'import pty']).status === 0
if (!terminal) console.warn('no python3 with pty: the questions of new --ask are not tried in a terminal')

/** Answers questions in a pseudo-terminal. */
function inTerminal(path: string, answers: readonly Answer[]) {
  const command = [process.execPath, inject('program'), 'new', path, '--ask']
  const { stdout } = spawnSync('python3', ['tests/cli/ask.py', JSON.stringify(command)], {
    input: JSON.stringify(answers),
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1', ASK_SECONDS: '110' },
  })
  return JSON.parse(stdout) as { code: number; seen: string; asked: number }
}

const ENTER = '\r'
const DOWN = '\x1b[B'

type Answer = readonly [question: string, keys: string]

/** The nth of a list of choices. */
function choose(n: number): string {
  return DOWN.repeat(n) + ENTER
}

function face(panels: number, direction: number, tilt: number, shade = 0): Answer[] {
  return [
    ['How many panels are on', `${panels}${ENTER}`],
    ['Which way does it face', choose(direction)],
    ['How steep', `${tilt}${ENTER}`],
    ['How much shade', choose(shade)],
  ]
}

/** Prices of energy come last of what the quotes share. */
function prices(bought: number, sold: number): Answer[] {
  return [
    ['that you buy', `${bought}${ENTER}`],
    ['kWh sold', `${sold}${ENTER}`],
  ]
}

/** A quote: its name, kind as place in the list, price, rating, quality, warranty, capacity of a battery, optimisers. */
function quote(
  name: string,
  kind: number,
  price: number,
  kw: number,
  years: number,
  more: { readonly quality?: number; readonly batteryKwh?: number; readonly optimisers?: number } = {},
): Answer[] {
  const [small, hybrid] = [kind === 1, kind === 4]
  return [
    ['quote called', `${name}${ENTER}`],
    ['put on the roof', choose(kind)],
    ['Its price', `${price}${ENTER}`],
    ...(more.optimisers === undefined ? [] : [['How many optimisers', `${more.optimisers}${ENTER}`] as Answer]),
    [small ? 'one small inverter' : 'Rating of the inverter', `${kw}${ENTER}`],
    ...(small || hybrid ? [] : [['What kind of inverter', choose(more.quality ?? 0)] as Answer]),
    ['Warranty on it', `${years}${ENTER}`],
    ['Capacity of its battery', `${more.batteryKwh ?? ''}${ENTER}`],
  ]
}

/** The quotes of `tests/scenario/quotes/`: what the site is, then each quote. */
const QUOTES: readonly (readonly [file: string, site: readonly Answer[], quotes: readonly Answer[][]])[] = [
  [
    'north-dollars',
    [
      ['Currency', `USD${ENTER}`],
      ['Latitude', `39.7${ENTER}`],
      ['Energy of the first year', ENTER],
      ...face(14, 6, 25),
      ['another face', ENTER],
      ...face(8, 4, 25, 1),
      ['another face', 'n'],
      ['Rated power', `430${ENTER}`],
      ['weather like', choose(3)],
      ['house use', ENTER],
      ...prices(0.17, 0.06),
    ],
    [
      quote('Sunrise roofing', 0, 21500, 7.6, 12),
      quote("Neighbour's firm", 1, 24900, 0.35, 25),
      quote('Big van', 2, 23400, 7.6, 12),
    ],
  ],
  [
    'south-dollars-battery',
    [
      ['Currency', `AUD${ENTER}`],
      ['Latitude', `-33.9${ENTER}`],
      ['Energy of the first year', ENTER],
      ...face(18, 0, 22),
      ['another face', 'n'],
      ['Rated power', `440${ENTER}`],
      ['weather like', choose(3)],
      ['house use', `6200${ENTER}`],
      ...prices(0.33, 0.05),
    ],
    [
      quote('Panels only', 0, 8200, 6, 10),
      quote('With battery', 4, 17900, 6, 10, { batteryKwh: 10 }),
      quote('Small inverters', 1, 10400, 0.37, 25),
    ],
  ],
  [
    'north-euros-half-hours',
    [
      ['Currency', ENTER],
      ['Latitude', `48${ENTER}`],
      ['Energy of the first year', ENTER],
      ...face(20, 5, 35),
      ['another face', 'n'],
      ['Rated power', `440${ENTER}`],
      ['weather like', choose(2)],
      ['house use', `half-hours.csv${ENTER}`],
      ...prices(0.31, 0.08),
    ],
    [
      quote('A', 0, 11900, 8, 10, { quality: 1 }),
      quote('B', 1, 13900, 0.36, 25),
      quote('C', 3, 12600, 8, 12, { optimisers: 6 }),
    ],
  ],
]

describe('lifetally new --ask', () => {
  writeFileSync(join(folder, 'half-hours.csv'), halfHours())

  test('outside a terminal it does not ask, and says what to do', () => {
    const path = join(folder, 'piped.yaml')
    expect(run(['new', path, '--ask'])).toEqual({
      code: 2,
      out: '',
      error: `--ask needs a terminal. Run it in one; or  lifetally new ${path}  writes a file to edit\n`,
    })
    expect(existsSync(path)).toBe(false)
  })

  test.skipIf(!terminal)(
    'asks, checks each answer, writes a short file, checks it and plays it to the report',
    () => {
      const path = join(folder, 'roof.yaml')
      const { code, seen, asked } = inTerminal(path, [
        ['called in the report', ENTER],
        ['Currency', `AUD${ENTER}`],
        ['Latitude', `-33.9${ENTER}`],
        ['Energy of the first year', `9400${ENTER}`],
        ['How many panels', `many${ENTER}`],
        ['write a whole number', `\x7f\x7f\x7f\x7f20${ENTER}`],
        ['Rated power', ENTER],
        ['that you buy', `0.32${ENTER}`],
        ['kWh sold', ENTER],
        ['quote called', ENTER],
        ['put on the roof', ENTER],
        ['Its price', `6900${ENTER}`],
        ['Rating of the inverter', `5${ENTER}`],
        ['What kind of inverter', ENTER],
        ['Warranty on it', `10${ENTER}`],
        ['Capacity of its battery', ENTER],
        ['another quote', ENTER],
        ['quote called', `Small ones${ENTER}`],
        ['put on the roof', `${DOWN}${ENTER}`],
        ['Its price', `9400${ENTER}`],
        ['one small inverter', ENTER],
        ['Warranty on it', `25${ENTER}`],
        ['Capacity of its battery', ENTER],
        ['another quote', 'n'],
        ['Play it now', ENTER],
      ])
      expect({ code, asked }, seen).toEqual({ code: 0, asked: 25 })
      expect(seen).toContain('Nothing is wrong. 2 options')
      expect(readFileSync(path, 'utf8')).toBe(`title: "roof"
currency: AUD
prices_from_evidence: yes   # repair prices; put your own in their place where you know them
site:
  panels: 20
  location: {latitude: -33.9}
  generation: {annual_kwh: 9400}
  energy_value:
    import_price_per_kwh: 0.32
    export_price_per_kwh: 0.08   # not known: look at a bill
options:
  - {name: "Quote 1", topology: string, upfront_cost: 6900, inverter_kw: 5, warranty: 10 years}
  - {name: "Small ones", topology: panel-level, upfront_cost: 9400, warranty: 25 years}
`)
      expect(existsSync(join(folder, 'roof', 'report.html'))).toBe(true)
    },
    180_000,
  )

  test.skipIf(!terminal)('Ctrl-C writes nothing and ends with 130', () => {
    const path = join(folder, 'stopped.yaml')
    const { code } = inTerminal(path, [
      ['called in the report', ENTER],
      ['Currency', '\x03'],
    ])
    expect(code).toBe(130)
    expect(existsSync(path)).toBe(false)
  })

  test.skipIf(!terminal).each(QUOTES)(
    'the quotes of %s, answered question by question, are the scenario that a person types',
    (name, site, quotes) => {
      const path = join(folder, `${name}.yaml`)
      const { code, seen } = inTerminal(path, [
        ['called in the report', ENTER],
        ...site,
        ...quotes.flatMap((quote, i) => [...quote, ['another quote', i + 1 < quotes.length ? ENTER : 'n'] as Answer]),
        ['Play it now', 'n'],
      ])
      expect(code, seen).toBe(0)
      const typed = readFileSync(`tests/scenario/quotes/${name}.yaml`, 'utf8')
      const [asked, written] = [readFileSync(path, 'utf8'), typed].map(text => readScenario(text, path, folder))
      expect(asked?.options).toEqual(written?.options)
      // the power of a panel may be written once or face by face
      expect({ ...asked?.site, panelW: null }).toEqual({ ...written?.site, panelW: null })
    },
    120_000,
  )

  test('whatever is not known, the file runs and says so', () => {
    const text = scenarioText({
      title: 'Roof: "the old one"',
      currency: 'EUR',
      latitude: null,
      energy: {
        form: 'faces',
        faces: [{ panels: 20, azimuth: '', tilt: null, shade: '' }],
        panelW: null,
        climate: '',
        use: null,
      },
      importPrice: null,
      exportPrice: null,
      quotes: ['string', 'panel-level', 'string-optimisers', 'hybrid', 'string-some-optimisers'].map(topology => ({
        name: `A ${topology}`,
        topology,
        price: 7000,
        inverterKw: null,
        tier: '',
        warrantyYears: null,
        batteryKwh: null,
        optimisers: topology === 'string-some-optimisers' ? 6 : null,
      })),
    })
    expect(readScenario(text, 'roof.yaml', '.').options.length).toBe(5)
    expect(text.match(/# not known/g)?.length).toBe(10)
  })
})
