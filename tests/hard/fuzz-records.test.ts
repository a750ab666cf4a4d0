import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fitRecords } from '../../src/fitting/fit-records.ts'
import { type ReadSettings, readRecords } from '../../src/fitting/records/read-records.ts'
import { renderFitReport } from '../../src/report/fit/render-fit.ts'
import { FuzzRun, LONG } from './fuzz-run.ts'
import { anySlip } from './mutate.ts'
import { hasMarkup, needWhole } from './play-case.ts'

const fuzz = new FuzzRun('records')

const cell = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: 0, max: 30, noNaN: true }).map(age => age.toFixed(2)) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      '',
      '0',
      '-1',
      '1e-300',
      '1e300',
      'NaN',
      'Infinity',
      '1,5',
      '5 years',
      '2020-02-30',
      '"',
      '=1+1',
      '٣',
      ' ',
    ),
  },
)
const outcome = fc.oneof({ weight: 9, arbitrary: fc.constantFrom('failed', 'working') }, { weight: 1, arbitrary: cell })
const model = fc.constantFrom('a', 'b', '<b>"\u202e', '', '=cmd', '👩‍👩‍👧')
const row = fc.tuple(
  model,
  fc.constantFrom('u1', 'u2', 'u3', 'u4', ''),
  fc.constantFrom('', '', '', '1', '40'),
  cell,
  outcome,
  fc.constantFrom('', '', '1', '7', '0', '-3', '1e9'),
)
const table = fc
  .array(row, { minLength: 0, maxLength: 40 })
  .map(rows => ['model,unit,start_age,end_age,outcome,count', ...rows.map(cells => cells.join(','))].join('\n'))

/** Mostly ages that a unit can have, some equal, some next to each other, some at the limits. */
const cleanAge = fc.oneof(
  { weight: 6, arbitrary: fc.nat(4000).map(age => age / 200) },
  { weight: 3, arbitrary: fc.nat(20) },
  { weight: 1, arbitrary: fc.double({ min: 0, max: 20, noNaN: true }) },
  { weight: 1, arbitrary: fc.double({ min: -6, max: 9, noNaN: true }).map(power => 10 ** power) },
)
const clean = fc
  .array(fc.tuple(fc.constantFrom('a', 'b'), cleanAge, fc.boolean(), fc.constantFrom(1, 1, 3, 1000, 300_000)), {
    minLength: 6,
    maxLength: 25,
  })
  .map(rows =>
    [
      'model,end_age,outcome,count',
      ...rows.map(([name, age, failed, count]) => `${name},${age},${failed ? 'failed' : 'working'},${count}`),
    ].join('\n'),
  )

const kept = readFileSync('examples/service-records.csv', 'utf8').split('\n')
const example = [...kept.slice(0, 120), ...kept.slice(-40)].join('\n')

async function fitCase(text: string, settings: Partial<ReadSettings>): Promise<'fitted'> {
  const bytes = (async function* () {
    yield new TextEncoder().encode(text)
  })()
  const read: ReadSettings = {
    file: 'case.csv',
    ageUnit: 'years',
    choice: { named: {}, groupBy: null },
    skipBadRows: false,
    asOfDay: null,
    ...settings,
  }
  const records = await readRecords(bytes, read)
  const tool = { name: 'lifetally', version: 'test' }
  const result = fitRecords(records, {
    file: 'case.csv',
    tool,
    ageUnit: 'years',
    seed: 1,
    shape: null,
    prior: null,
    warrantyYears: 5,
  })
  const json = JSON.stringify(result, (key, value) => {
    if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`a broken figure: ${key}`)
    return value
  })
  expect(json.length).toBeGreaterThan(100)
  const html = renderFitReport(result, 'lifetally fit case.csv').replace(/<style>.*?<\/style>/gs, '')
  needWhole(html, text)
  if (hasMarkup(html)) throw new Error('a name became markup')
  return 'fitted'
}

const run = (text: string, settings: Partial<ReadSettings> = {}) =>
  fuzz.try(text, JSON.stringify(settings), () => fitCase(text, settings))

describe('no records break the fit: a message, or finite figures', () => {
  test('rows of any cells', LONG, async () => {
    await fc.assert(
      fc.asyncProperty(table, fc.boolean(), async (text, skipBadRows) => run(text, { skipBadRows })),
      fuzz.settings(10),
    )
  })

  test('few, equal, extreme and heavy rows that can all be read', LONG, async () => {
    await fc.assert(
      fc.asyncProperty(clean, async text => run(text)),
      fuzz.settings(10),
    )
    expect(fuzz.ended.fitted).toBeGreaterThan(0)
  })

  test('typing errors in a real file', LONG, async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(anySlip, { minLength: 1, maxLength: 3 }), async slips =>
        run(
          slips.reduce((before, slip) => slip(before), example),
          { skipBadRows: true },
        ),
      ),
      fuzz.settings(1),
    )
  })
})
