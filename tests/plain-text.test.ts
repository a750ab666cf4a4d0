import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { InputError, problemText } from '../src/errors.ts'
import { failureYaml } from '../src/fitting/failure-block.ts'
import { fitRecords } from '../src/fitting/fit-records.ts'
import { readRecords } from '../src/fitting/records/read-records.ts'
import { cellText } from '../src/input/cell-text.ts'
import { escapedJson, onOneLine, visible } from '../src/plain-text.ts'
import { escapeMarkup } from '../src/report/charts/svg.ts'
import { renderFitReport } from '../src/report/fit/render-fit.ts'
import { finiteJson } from '../src/report/write-json.ts'
import { readScenario } from '../src/scenario/read-scenario.ts'
import { PLAIN } from './scenario/plain-scenario.ts'

/** An escape that clears the screen, a C1 one, a mark that turns direction, a bell, a line of its own, half a pair. */
const HOSTILE = 'a\u001b[2J\u009b31mb\u202ec\u0007\r\nd\ud800'
/** What none of our outputs may hold raw. */
const RAW = /[^\P{Cc}\t\n]|[\u202a-\u202e]|\p{Cs}/u

describe('text from files passes through one function', () => {
  test('control characters, marks and halves become signs; letters, line feeds and isolates stay', () => {
    expect(visible(HOSTILE)).toBe('a␛[2J\ufffd31mb\ufffdc␇␍\nd\ufffd')
    expect(onOneLine(HOSTILE)).toBe('a␛[2J\ufffd31mb\ufffdc␇ d\ufffd')
    for (const text of ['plain', 'été 🏚 👩‍👩‍👧', '\u2068שלום\u2069', 'tab\there\n']) expect(visible(text)).toBe(text)
  })

  test('JSON keeps its value', () => {
    const json = escapedJson(JSON.stringify({ [HOSTILE]: HOSTILE }))
    expect(RAW.test(json)).toBe(false)
    expect(JSON.parse(json)).toEqual({ [HOSTILE]: HOSTILE })
  })

  test('problems, tables, charts and results use it', () => {
    const problem = { file: HOSTILE, line: 1, column: 2, key: HOSTILE, message: `found ${HOSTILE}` }
    expect(RAW.test(problemText(problem))).toBe(false)
    expect(new InputError([problem]).message.split('\n')).toHaveLength(2)
    for (const text of [cellText(HOSTILE), escapeMarkup(HOSTILE), finiteJson({ name: HOSTILE })])
      expect(RAW.test(text)).toBe(false)
  })

  test('a key of a scenario is shown without control characters', () => {
    expect(() => readScenario(`${PLAIN}"wa\\e[31mr\\u202en": 1\n`, 'a\u001bb.yaml', '.')).toThrow(
      'a␛b.yaml:24:1  wa␛[31mr\ufffdn\n  unknown key "wa␛[31mr\ufffdn"',
    )
  })
})

describe('groups of records', () => {
  const settings = { file: 'r.csv', ageUnit: 'years', skipBadRows: false, asOfDay: null } as const
  const read = (group: string) => {
    const rows = Array.from({ length: 80 }, (_, i) => `"${i % 2 === 0 ? group : 'other'}",${1 + (i % 15)},failed`)
    const text = ['model,end_age,outcome', ...rows].join('\n')
    const bytes = async function* () {
      yield new TextEncoder().encode(text)
    }
    return readRecords(bytes(), { ...settings, choice: { named: {}, groupBy: null } })
  }

  test('one with control characters gives a failure.yaml that a scenario takes, and a page without them', async () => {
    const tool = { name: 'lifetally', version: '0' }
    const more = {
      file: 'r.csv',
      tool,
      ageUnit: 'years',
      seed: 1,
      shape: null,
      prior: null,
      warrantyYears: null,
    } as const
    const fit = fitRecords(await read('wall\u001b[31m\n\tnew\u0085\u202e'), more)
    const block = failureYaml(fit, 'fit.json')
    expect([block, renderFitReport(fit, 'lifetally fit r.csv')].map(text => RAW.test(text))).toEqual([false, false])
    const [name] = Object.keys(parse(block) as object)
    expect(name).toBe('wall␛[31m new\ufffd\ufffd')
    const records: string = (parse(block) as Record<string, { failure: { records: string } }>)[name!]!.failure.records
    const folder = mkdtempSync(join(tmpdir(), 'lifetally-groups-'))
    try {
      writeFileSync(join(folder, 'fit.json'), finiteJson(fit))
      const text = PLAIN.replace('ac_kw: 5', `ac_kw: 5\n        failure: {records: ${JSON.stringify(records)}}`)
      expect(readScenario(text, 'case.yaml', folder).options).toHaveLength(2)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  test('a name longer than a scenario takes is refused with its line', async () => {
    await expect(read('x'.repeat(150))).resolves.toMatchObject({ nSkipped: 0 })
    await expect(read('x'.repeat(151))).rejects.toThrow(
      `r.csv:2  model\n  the group "${'x'.repeat(30)}…" has 151 characters; allowed: up to 150. Name another column with --by`,
    )
  })
})
