import { appendFileSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fitRecords } from '../../src/fitting/fit-records.ts'
import { type ReadSettings, readRecords } from '../../src/fitting/records/read-records.ts'
import { renderFitReport } from '../../src/report/fit/render-fit.ts'
import { anySlip } from './mutate.ts'
import { BROKEN, isMeant } from './play-case.ts'

/** Cases of each kind; many for the long run that DEVELOPERS.md tells of. */
const CASES = Number(process.env.LIFETALLY_FUZZ_CASES ?? 10)
const SEED = Number(process.env.LIFETALLY_FUZZ_SEED ?? 20_270_302)
const LOG = process.env.LIFETALLY_FUZZ_LOG
const ended = { fitted: 0, told: 0 }

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

const clean = fc
  .array(
    fc.tuple(
      fc.constantFrom('a', 'b'),
      fc.double({ min: 0, max: 20, noNaN: true }),
      fc.boolean(),
      fc.constantFrom(1, 1, 3, 1000),
    ),
    {
      minLength: 6,
      maxLength: 25,
    },
  )
  .map(rows =>
    [
      'model,end_age,outcome,count',
      ...rows.map(([name, age, failed, count]) => `${name},${age},${failed ? 'failed' : 'working'},${count}`),
    ].join('\n'),
  )

const kept = readFileSync('examples/service-records.csv', 'utf8').split('\n')
const example = [...kept.slice(0, 120), ...kept.slice(-40)].join('\n')

async function fitCase(text: string, settings: Partial<ReadSettings>): Promise<'fitted' | 'told'> {
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
  try {
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
    if (BROKEN.test(html) && !BROKEN.test(text))
      throw new Error(`a broken figure in the report: ${html.slice(html.search(BROKEN) - 150).slice(0, 250)}`)
    if (/<script|<img/i.test(html)) throw new Error('a name became markup')
    return 'fitted'
  } catch (error) {
    if (isMeant(error)) return 'told'
    throw error
  }
}

async function run(text: string, settings: Partial<ReadSettings> = {}): Promise<void> {
  const start = process.cpuUsage()
  try {
    ended[await fitCase(text, settings)] += 1
  } catch (error) {
    if (LOG === undefined) throw error
    appendFileSync(
      LOG,
      `RECORDS ${error instanceof Error ? error.stack?.slice(0, 600) : error}\n${text.slice(0, 3000)}\n=====\n`,
    )
  }
  const took = process.cpuUsage(start).user / 1000
  if (took < 5000) return
  if (LOG === undefined) throw new Error(`a case took ${took} ms`)
  appendFileSync(LOG, `SLOW RECORDS ${took} ms\n${text.slice(0, 3000)}\n=====\n`)
}

describe('no records break the fit: a message, or finite figures', () => {
  const settings = { seed: SEED, numRuns: CASES, endOnFailure: true }
  const long = { timeout: 36_000_000 }

  test('rows of any cells', long, async () => {
    await fc.assert(
      fc.asyncProperty(table, fc.boolean(), async (text, skipBadRows) => run(text, { skipBadRows })),
      settings,
    )
  })

  test('few, equal, extreme and heavy rows that can all be read', long, async () => {
    await fc.assert(
      fc.asyncProperty(clean, async text => run(text)),
      settings,
    )
    expect(ended.fitted).toBeGreaterThan(0)
  })

  test('slips of the hand in a real file', long, async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(anySlip, { minLength: 1, maxLength: 3 }), async slips =>
        run(
          slips.reduce((before, slip) => slip(before), example),
          { skipBadRows: true },
        ),
      ),
      { ...settings, numRuns: Math.ceil(CASES / 10) },
    )
    if (LOG !== undefined) appendFileSync(LOG, `${JSON.stringify({ seed: SEED, records: ended })}\n`)
  })
})
