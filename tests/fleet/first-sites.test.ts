import { execFileSync, spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { strFromU8, unzipSync } from 'fflate'
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest'
import { writeFleet } from '../../src/cli/commands/write-fleet.ts'
import { fleetFindings } from '../../src/fleet/findings/findings.ts'
import { RankedSites } from '../../src/fleet/findings/ranked-sites.ts'
import type { FleetResults } from '../../src/fleet/fleet-results.ts'
import { type PlayedPart, playPart } from '../../src/fleet/play-part.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { readCsv } from '../../src/input/csv.ts'
import { homeTemplate, siteTable, writeFleet as writeFiles } from './fleets.ts'

const SITES = 37
const DRAWS = 60
let played: PlayedPart
let results: FleetResults
let folder: string
beforeAll(async () => {
  const table = `${siteTable(SITES)}bad,-4,3000,alder,maker-a\n`
  const source = await readFleetSource(writeFiles(homeTemplate(), table), null)
  played = await playPart(
    source,
    {
      ...{
        seed: 3,
        draws: DRAWS,
        threads: 1,
        part: 1,
        parts: 1,
        workFolder: mkdtempSync(join(tmpdir(), 'lifetally-')),
      },
      ...{ resume: false, version: '0', command: 'lifetally fleet', chunkSites: 10, saveEverySeconds: 9, now: () => 0 },
      needFolder: () => {},
    },
    () => {},
  )
  results = fleetFindings(played, { name: 'lifetally', version: '0' })
  folder = mkdtempSync(join(tmpdir(), 'lifetally-first-'))
  await writeFleet(folder, results, 'lifetally fleet', null, [played.sitesFile])
})
afterEach(() => {
  vi.useRealTimers()
})

const table = () => readCsv(readFileSync(join(folder, 'sites.csv'), 'utf8'), 'sites.csv').rows.map(({ cells }) => cells)
const numbers = (column: string): number[] =>
  table()
    .filter(({ Played }) => Played === 'yes')
    .map(cells => Number(cells[column]))

describe('F7a: which roofs first', () => {
  test('sites.csv holds every site once, the dearest of the next five years first, what was left out last', () => {
    const rows = table()
    expect(rows.map(({ Rank }) => Rank)).toEqual([...Array.from({ length: SITES }, (_, i) => String(i + 1)), ''])
    expect(rows.at(-1)).toMatchObject({ Site: 'bad', Played: 'no', 'Why left out': expect.stringContaining('-4') })
    expect(new Set(rows.map(({ Site }) => Site)).size).toBe(SITES + 1)
    const bills = numbers('Expected bill in the next 5 years')
    expect(bills).toEqual([...bills].sort((a, b) => b - a))
    expect(bills[0]).toBeGreaterThan(bills.at(-1) ?? 0)
  })

  test.each([
    ['Expected bill next year', 'nextYear'],
    ['Expected bill in the next 5 years', 'nextFiveYears'],
    ['Expected bill to the end', 'toHorizon'],
  ] as const)(
    '%s: the sum over the sites is the pooled mean, to the hundredth, and in the table to its rounding',
    (column, key) => {
      const { pooled, sumOfSites } = results.expectedBills[key]
      expect(pooled.value).toBeGreaterThan(0)
      expect(Math.abs(pooled.value - sumOfSites)).toBeLessThanOrEqual(0.0051)
      const sum = numbers(column).reduce((total, bill) => total + bill, 0)
      expect(Math.abs(sum - pooled.value)).toBeLessThan(0.005 * SITES)
    },
  )

  test('the sums over sites are those of the years', () => {
    const [first = 0, ...rest] = results.cashByYear.mean
    const { nextYear, nextFiveYears } = results.expectedBills
    expect(nextYear.pooled.value).toBeCloseTo(first, 6)
    expect(nextFiveYears.pooled.value).toBeCloseTo(first + rest.slice(0, 4).reduce((sum, cash) => sum + cash, 0), 6)
  })

  test('a chance is a share of the futures, of five years no less than of one; cover left falls with age', () => {
    for (const cells of table()) {
      if (cells.Played !== 'yes') continue
      const [next, five] = ['next year', 'in the next 5 years'].map(when =>
        Number(cells[`Chance of a failure ${when}`]),
      )
      expect(five).toBeGreaterThanOrEqual(next ?? 1)
      expect(five).toBeLessThanOrEqual(1)
      expect(Math.abs((five ?? 0) * DRAWS - Math.round((five ?? 0) * DRAWS))).toBeLessThan(0.05)
      expect(Number(cells['Cover left, years'])).toBe(Math.max(0, 6 - Number(cells['Age, years'])))
      const words = Number(cells['Cover left, years']) > 0 ? 'parts covered for' : 'parts no longer covered'
      expect(cells.Why).toContain(words)
    }
    // the worth of a chance: failures to the end hold it up from above
    const failures = numbers('Failures to the end')
    numbers('Chance of a failure in the next 5 years').forEach((chance, i) => {
      expect(chance).toBeLessThanOrEqual((failures[i] ?? 0) + 0.001)
    })
  })

  test('fleet.json names the ten first, in the order of sites.csv', () => {
    expect(results.firstSites).toHaveLength(10)
    expect(results.firstSites.map(({ id }) => id)).toEqual(
      table()
        .slice(0, 10)
        .map(({ Site }) => Site),
    )
  })

  test('F1: sorted in small batches on disk, the same bytes as at once; nothing is left', async () => {
    const csvOf = async (batch: number): Promise<string> => {
      const ranked = await RankedSites.of([played.sitesFile], batch)
      const pieces: Uint8Array[] = []
      for await (const piece of ranked.csv()) pieces.push(piece)
      ranked.close()
      return Buffer.concat(pieces).toString()
    }
    const whole = readFileSync(join(folder, 'sites.csv'), 'utf8')
    for (const batch of [1, 7, 1000]) expect(await csvOf(batch)).toBe(whole)
  })

  test('names that break lines or begin like a formula stay one row', async () => {
    const file = join(mkdtempSync(join(tmpdir(), 'lifetally-')), 'a.csv')
    const lines = readFileSync(played.sitesFile, 'utf8').replace(/^s3,/m, '"s\n3, ""x""",').replace(/^s4,/m, "'=1+1,")
    writeFileSync(file, lines)
    const ranked = await RankedSites.of([file], 5)
    const ids = (await ranked.first(100)).map(([, id]) => id)
    ranked.close()
    expect(ids).toHaveLength(SITES + 1)
    expect(ids).toContain('s\n3, "x"')
    expect(ids).toContain("'=1+1")
  })
})

describe('F7a: how much by year', () => {
  test('years.csv: one row a year with its percentiles, failures and visits, rounded as the report', () => {
    const { rows, columns } = readCsv(readFileSync(join(folder, 'years.csv'), 'utf8'), 'years.csv')
    expect(rows).toHaveLength(15)
    expect(columns).toEqual([
      'Year',
      'Bills, mean',
      'Half of futures stay under (P50)',
      '8 of 10 futures stay under (P80)',
      '9 of 10 futures stay under (P90)',
      '19 of 20 futures stay under (P95)',
      'Failures, mean',
      'Visits, covered ones too, mean',
    ])
    rows.forEach(({ cells }, year) => {
      expect(cells.Year).toBe(String(year + 1))
      const mean = results.cashByYear.mean[year] ?? 0
      const error = results.cashByYear.standardError.mean[year] ?? 0
      expect(Math.abs(Number(cells['Bills, mean']) - mean)).toBeLessThanOrEqual(Math.max(error, 0.5))
    })
  })

  test('visits: every failure whose repair ends before the horizon has one, covered or not', () => {
    const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
    const [failures, visits] = [sum(results.failuresByYear.mean), sum(results.visitsByYear.mean)]
    expect(visits).toBeLessThanOrEqual(failures)
    expect(visits).toBeGreaterThan(0.95 * failures)
  })
})

describe('F7a: reserve.xlsx', () => {
  const entries = (bytes: Uint8Array) =>
    Object.fromEntries(Object.entries(unzipSync(bytes)).map(([name, content]) => [name, strFromU8(content)]))
  const read = () => new Uint8Array(readFileSync(join(folder, 'reserve.xlsx')))

  test('is a workbook with three sheets, plain headings, numbers as numbers', () => {
    const files = entries(read())
    expect(files['xl/workbook.xml']).toMatch(/name="Need by year".*name="Reserve".*name="Roofs"/s)
    const strings = files['xl/sharedStrings.xml'] ?? ''
    for (const words of [
      'Year',
      'Bills, mean',
      '9 of 10 futures stay under (P90)',
      'Rank',
      'Expected bill next year',
      's3',
    ])
      expect(strings).toContain(`>${words}<`)
    const [years = '', reserve = '', roofs = ''] = [1, 2, 3].map(sheet => files[`xl/worksheets/sheet${sheet}.xml`])
    expect(years.match(/<row /g)).toHaveLength(2 + 15)
    expect(roofs.match(/<row /g)).toHaveLength(2 + SITES + 1)
    // R2a: the figures of the answer
    const { ready, perYear } = results.reserve.twoPart
    for (const [row, { value, standardError }] of [ready, perYear].entries()) {
      const shown = Number(new RegExp(`<c r="B${row + 3}"[^>]*><v>([^<]*)</v>`).exec(reserve)?.[1])
      expect(Math.abs(shown - value)).toBeLessThanOrEqual(standardError)
    }
    const csv = readCsv(readFileSync(join(folder, 'years.csv'), 'utf8'), 'years.csv')
    csv.rows.forEach(({ cells }, year) => {
      const [, value] = new RegExp(`<c r="B${year + 3}"[^>]*><v>([^<]*)</v>`).exec(years) ?? []
      expect(value).toBe(cells['Bills, mean'])
    })
  })

  test('has the same bytes at another time and in another zone', async () => {
    vi.useFakeTimers({ toFake: ['Date'], now: new Date('2031-05-06T07:08:09Z') })
    const zone = process.env.TZ
    process.env.TZ = 'Pacific/Auckland'
    try {
      const later = mkdtempSync(join(tmpdir(), 'lifetally-later-'))
      await writeFleet(later, results, 'lifetally fleet', null, [played.sitesFile])
      for (const name of ['reserve.xlsx', 'sites.csv', 'years.csv', 'fleet.json', 'fleet.html', 'sheet.html'])
        expect(readFileSync(join(later, name)).equals(readFileSync(join(folder, name))), name).toBe(true)
    } finally {
      if (zone === undefined) delete process.env.TZ
      else process.env.TZ = zone
    }
  })

  const office = ['soffice', 'libreoffice'].find(name => spawnSync(name, ['--version']).status === 0)
  test.skipIf(office === undefined)(
    'opens in a free spreadsheet, which reads the same years',
    () => {
      const out = mkdtempSync(join(tmpdir(), 'lifetally-office-'))
      execFileSync(office ?? '', ['--headless', '--convert-to', 'csv', '--outdir', out, join(folder, 'reserve.xlsx')])
      expect(existsSync(join(out, 'reserve.csv'))).toBe(true)
      const lines = readFileSync(join(out, 'reserve.csv'), 'utf8').trim().split('\n')
      expect(lines).toHaveLength(2 + 15)
      expect(lines[2]).toMatch(/^1,\d/)
    },
    120_000,
  )
})
