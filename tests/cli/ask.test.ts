import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, inject, test } from 'vitest'
import { scenarioText } from '../../src/cli/ask/scenario-text.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { run } from './run.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-ask-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const terminal = spawnSync('python3', ['-c', 'import pty']).status === 0
if (!terminal) console.warn('no python3 with pty: the questions of new --ask are not tried in a terminal')

/** Answers questions in a pseudo-terminal. */
function inTerminal(path: string, answers: readonly (readonly [question: string, keys: string])[]) {
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

describe('lifetally new --ask', () => {
  test('is no place to ask outside a terminal, and says what to do', () => {
    const path = join(folder, 'piped.yaml')
    expect(run(['new', path, '--ask'])).toEqual({
      code: 2,
      out: '',
      error: `--ask asks in a terminal, and this is none. Run it in one; or  lifetally new ${path}  writes a file to edit\n`,
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
        ['How many panels', `many${ENTER}`],
        ['write a whole number', `\x7f\x7f\x7f\x7f20${ENTER}`],
        ['Rated power', ENTER],
        ['Energy of the first year', `9400${ENTER}`],
        ['Latitude', `-33.9${ENTER}`],
        ['that you buy', `0.32${ENTER}`],
        ['kWh sold', ENTER],
        ['quote called', ENTER],
        ['put on the roof', ENTER],
        ['Its price', `6900${ENTER}`],
        ['Rating of the inverter', `5${ENTER}`],
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
      expect({ code, asked }, seen).toEqual({ code: 0, asked: 24 })
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

  test('whatever is not known, the file runs and says so', () => {
    const text = scenarioText({
      title: 'Roof: "the old one"',
      currency: 'EUR',
      panels: 20,
      panelW: null,
      annualKwh: null,
      latitude: null,
      importPrice: null,
      exportPrice: null,
      quotes: ['string', 'panel-level', 'string-optimisers', 'hybrid', 'string-some-optimisers'].map(topology => ({
        name: `A ${topology}`,
        topology,
        price: 7000,
        inverterKw: null,
        warrantyYears: null,
        batteryKwh: null,
        optimisers: topology === 'string-some-optimisers' ? 6 : null,
      })),
    })
    expect(readScenario(text, 'roof.yaml', '.').options.length).toBe(5)
    expect(text.match(/# not known/g)?.length).toBe(3)
  })
})
