import { describe, expect, test } from 'vitest'
import { readCsv } from '../../src/input/csv.ts'
import { parseYaml } from '../../src/input/yaml.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { playCase } from './play-case.ts'

/** Names that every JavaScript object has. */
const WORDS = ['constructor', 'toString', 'valueOf', 'hasOwnProperty', '__proto__']

describe('a name that every JavaScript object has is a name like any other', () => {
  // `title: constructor` used to end as a fault of the program: the report looked its words up in a plain object
  test.each(WORDS)('title, option, model and maker called %s are played and reported', async word => {
    const text = PLAIN.replace('title: Plain', `title: ${word}`)
      .replace('name: String', `name: ${word}`)
      .replace('kind: string-inverter', `kind: string-inverter\n        model: ${word}`)
      .replace(
        'topology: string\n',
        `topology: string\n    warranty_provider: {name: ${word}, exit_rate_per_year: 2%}\n`,
      )
    expect(await playCase(text, 'report')).toBe('reported')
  })

  test.each(WORDS)('E4: an array called %s has no optimiser unless it is named', word => {
    const roof = `site:
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
  location: {latitude: 48, climate: temperate}
  generation:
    arrays:
      - {name: ${word}, panels: 6, panel_w: 400, azimuth: 180, tilt: 30}
      - {name: west, panels: 6, panel_w: 400, azimuth: 270, tilt: 30}
visit: {call_out: 140, roof_access: 60}
options:
  - name: Some
    topology: string-some-optimisers
    upfront_cost: 6900
    optimisers_on: {west: 6}
    components:
      - {kind: string-inverter, ac_kw: 5, replacement: {parts: 900, labour: 260}}
      - {kind: optimiser, count: 6, replacement: {parts: 60, labour: 90}}
`
    const fitted = (text: string) => readScenario(text, 'roof.yaml', '.').options[0]?.optimisersOn
    expect(fitted(roof)).toEqual(new Map([['west', 6]]))
    expect(fitted(roof)?.get(word)).toBeUndefined()
    if (word !== '__proto__') expect(fitted(roof.replace('{west: 6}', `{${word}: 6}`))?.get(word)).toBe(6)
  })

  test.each(WORDS)('a key or a column called %s that is not there is not found', word => {
    expect(Reflect.get(parseYaml('a: 1\n', 'f.yaml').value as object, word)).toBeUndefined()
    expect(readCsv('a\n1\n', 'f.csv').rows[0]?.cells[word]).toBeUndefined()
  })
})
