import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { HtmlValidate } from 'html-validate'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { FleetResults } from '../../src/fleet/fleet-results.ts'
import { renderFleetSheet } from '../../src/report/fleet/fleet-sheet.ts'
import { renderFleetReport } from '../../src/report/fleet/render-fleet.ts'
import { BROWSER_PATH, openBrowser, openFile } from './chromium.ts'
import { COMMAND, fleetResults } from './fleet-fixture.ts'
import { smallText } from './small-text.ts'

let results: FleetResults
let crowded: FleetResults
beforeAll(async () => {
  results = await fleetResults()
  crowded = asLongAsItGets(results)
})

const sheetOf = (of: FleetResults, date: string | null = null): string =>
  renderFleetSheet(of, date).replaceAll('\u00a0', ' ')

/** The same fleet with every list full, long names and large sums. */
function asLongAsItGets(of: FleetResults): FleetResults {
  const [site] = of.firstSites
  const [model] = of.models
  if (site === undefined || model === undefined) throw new Error('a fleet with roofs')
  const name = 'Roof of the parish hall behind the old mill, northern slope'
  const why = 'age not known, taken as 11.5 years, parts covered for 13.5 more years; a failure costs about 1400'
  const million = (values: readonly number[]): number[] => values.map(value => value * 1000)
  return {
    ...of,
    fleet: { ...of.fleet, title: name, listed: 5130, leftOut: 130 },
    reserve: { ...of.reserve, opening: 1_250_000 },
    cashByYear: { ...of.cashByYear, mean: million(of.cashByYear.mean), p90: million(of.cashByYear.p90) },
    firstSites: Array.from({ length: 10 }, (_, n) => ({ ...site, id: `${n} ${name}`, why })),
    models: Array.from({ length: 8 }, (_, n) => ({ ...model, name: `${n} ${name}` })),
    notes: [
      { code: 'survivors-not-counted', text: 'of the report' },
      { code: 'ages-unknown', text: 'The age of 1200 sites is not known; they are taken to be as old as the others.' },
      { code: 'ignored-columns', text: `Columns left out as the fleet file asks: ${'remarks of 2019, '.repeat(40)}.` },
    ],
  }
}

describe('sheet.html of a fleet in words (F7)', () => {
  test('html-validate finds nothing', async () => {
    for (const of of [results, crowded]) {
      const report = await new HtmlValidate({ extends: ['html-validate:recommended'] }).validateString(
        renderFleetSheet(of, '2027-03-14'),
      )
      expect(
        report.results.flatMap(({ messages }) => messages.map(({ ruleId, message }) => `${ruleId}: ${message}`)),
      ).toEqual([])
    }
  })

  test('the answer has three sentences: what to put aside, the years, how sure', () => {
    const answer = sheetOf(results).split('<h2 id="the-answer">')[1]?.split('</section>')[0] ?? ''
    const [aside, years, sure, more] = [...answer.matchAll(/<p>(.*?)<\/p>/g)].map(match => match[1])
    expect(aside).toMatch(
      /^Have EUR [\d,]+ ready at the start and put aside EUR [\d,]+ a year for all 120 sites, EUR \d+ and EUR \d+ for each: in 9 of 10 futures/,
    )
    expect(years).toMatch(/^Years \d+, \d+ and \d+ need most: \d+ % of all bills\.$/)
    expect(sure).toMatch(/^In 1 of 10 futures it falls short/)
    expect(more).toBeUndefined()
  })

  test('R2a: the opening balance is named, and is part of what to have ready', () => {
    expect(sheetOf(crowded)).toMatch(/Have EUR [\d,]+ ready at the start \(EUR 1,250,000 is there\) and put aside EUR/)
  })

  test('C8: what may be bought later is said to be in no figure', () => {
    const later = {
      names: ['battery'],
      sites: 60,
      bought: { value: 40, standardError: 1 },
      cost: { mean: { value: 240_000, standardError: 6000 }, p90: { value: 270_000, standardError: 9000 } },
      costByYear: [],
    }
    expect(sheetOf({ ...results, later })).toContain(
      'Not counted in that: what may be bought later by 60 sites (battery). It costs EUR 240,000 over 15 years on average, and stays under EUR 270,000 in 9 of 10 futures.',
    )
  })

  test('the day is printed where one is given, and no other', () => {
    expect(sheetOf(results, '2027-03-14')).toContain('<p class="facts">14 March 2027. 120 sites over 15 years, EUR')
    expect(sheetOf(results)).toContain('<p class="facts">120 sites')
  })

  test('ten years, or as many as there are, with bills, failures and visits', async () => {
    const table = (of: FleetResults) => sheetOf(of).split('<thead>')[1]?.split('</table>')[0] ?? ''
    expect(table(results).match(/<th scope="col"/g)).toHaveLength(11)
    expect(table(results).match(/<th scope="row"/g)).toHaveLength(4)
    const short = { ...results, fleet: { ...results.fleet, horizonYears: 3 } }
    expect(table(short).match(/<th scope="col"/g)).toHaveLength(4)
  })

  test('boxes: ten roofs, at most three models, how sure, what is open, five questions', () => {
    const points = (heading: string, of = results): string[] => {
      const box = sheetOf(of).split(`<h2>${heading}</h2>`)[1]?.split('</section>')[0] ?? ''
      return [...box.matchAll(/<li>(.*?)<\/li>/g)].map(match => match[1] ?? '')
    }
    const roofs = 'First roofs: chance of a failure and expected bill in five years'
    expect(points(roofs)).toHaveLength(10)
    expect(points(roofs)[0]).toMatch(/^s\d+: \d+ %, EUR [\d,]+; \d+\.\d years old, parts /)
    expect(points('The models that need most')).toHaveLength(2)
    expect(points('The models that need most', crowded)).toHaveLength(3)
    expect(points('How sure this is')[0]).toMatch(
      /^With other luck these move by about EUR [\d,]+ at the start, EUR [\d,]+ a year/,
    )
    expect(points('What the data leave open')).toContain(
      '1 site of 121 could not be played and is in no figure; sites.csv says why.',
    )
    expect(points('What the data leave open', crowded)).toHaveLength(4)
    const clean = { ...results, notes: [], fleet: { ...results.fleet, leftOut: 0 } }
    expect(points('What the data leave open', clean)).toEqual([
      'Every site was played, every age is known, and every column of the list is used.',
    ])
    expect(points('Ask the operator')).toHaveLength(5)
  })

  test('no name of an option, no key and no word of the trade', () => {
    expect(sheetOf(results)).not.toMatch(
      /As built|none_failed_so_far|common cause|standard error|percentile|P90|undefined|NaN|null/,
    )
  })

  test('a fleet of one site has a page, and one without bills', async () => {
    expect(sheetOf(await fleetResults(1))).toContain('a year for the one site: in')
    const none = { ...results, firstSites: [], dearestYears: [], models: [] }
    expect(sheetOf(none)).toContain('No year has bills.')
  })
})

describe('every figure of the sheet comes out of fleet.json and is that of fleet.html', () => {
  // a note of its own is a sentence of the run
  const figuresOf = (html: string): string[] => {
    const bare = html.replace(/<style>[\s\S]*?<\/style>|<svg[\s\S]*?<\/svg>|<footer>[\s\S]*?<\/footer>/g, ' ')
    const page = bare.split('<h2>Ask the operator</h2>')[0] ?? ''
    return (
      page
        .slice(page.indexOf('<p class="facts">'))
        .replace(/<[^>]+>/g, ' ')
        .match(/\d+(?:,\d{3})*(?:\.\d+)?/g) ?? []
    )
  }

  test('moved results move every figure but counts, years and names', () => {
    const kept = /\.(seed|draws|horizonYears|listed|played|leftOut|sites|year|peakYear|confidence|firstShortYear)$/
    const share = /share|chance|ageYears|coverLeft/i
    const move = (value: unknown, path: string): unknown => {
      if (typeof value === 'number') return kept.test(path) ? value : value * (share.test(path) ? 0.31 : 3.7)
      if (Array.isArray(value)) return value.map((item, index) => move(item, `${path}.${index}.`.replace(/\.$/, '')))
      if (typeof value !== 'object' || value === null) return value
      return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, move(item, `${path}.${key}`)]))
    }
    const before = figuresOf(sheetOf(results))
    const after = figuresOf(sheetOf(move(results, '') as FleetResults)) // the same shape, number for number
    expect(after).toHaveLength(before.length)
    const stayed = before.filter((figure, index) => figure === after[index])
    const years = results.dearestYears.map(({ year }) => String(year + 1))
    const peaks = results.models.map(({ peakYear }) => String((peakYear ?? 0) + 1))
    const counts = results.models.map(({ sites }) => String(sites))
    const words = results.firstSites.flatMap(({ id, why }) => `${id} ${why}`.match(/\d+(?:,\d{3})*(?:\.\d+)?/g) ?? [])
    // futures of ten, years of the table and of the horizon, sites played and listed, draws
    const plain = ['9', '10', '1', '15', '120', '121', '100', ...Array.from({ length: 10 }, (_, n) => String(n + 1))]
    const allowed = new Set([...plain, ...years, ...peaks, ...counts, ...words])
    expect(stayed.filter(figure => !allowed.has(figure))).toEqual([])
    expect(before.length - stayed.length).toBeGreaterThan(50)
  })

  test('sums and shares are written as in fleet.html', () => {
    const report = renderFleetReport(results, COMMAND).replaceAll('\u00a0', ' ')
    const cells = (html: string): string[] => [...html.matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(match => match[1] ?? '')
    const [mean = [], high = [], failures = []] = [0, 1, 2].map(row =>
      cells(sheetOf(results)).slice(row * 10, row * 10 + 10),
    )
    const years = report.slice(report.indexOf('Year by year, all sites'))
    const rows = [...years.matchAll(/<tr><th scope="row">\d+<\/th>([\s\S]*?)<\/tr>/g)].map(row => cells(row[1] ?? ''))
    expect(failures).toEqual(rows.slice(0, 10).map(row => row[0]))
    expect(mean).toEqual(rows.slice(0, 10).map(row => row[2]))
    expect(high).toEqual(rows.slice(0, 10).map(row => row[4]))
  })
})

describe.skipIf(BROWSER_PATH === null)('sheet.html of a fleet on paper and on screens', () => {
  let browser: Browser
  let folder: string
  const PAGES = ['plain', 'crowded'] as const
  const fileOf = (page: string): string => join(folder, `${page}.html`)
  beforeAll(async () => {
    browser = await openBrowser()
    folder = mkdtempSync(join(tmpdir(), 'lifetally-fleet-sheet-'))
    writeFileSync(fileOf('plain'), renderFleetSheet(results, '2027-03-14'))
    writeFileSync(fileOf('crowded'), renderFleetSheet(crowded, '2027-03-14'))
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  test.each(PAGES.flatMap(page => [[page, 'A4'] as const, [page, 'Letter'] as const]))(
    'the %s page prints on one sheet of %s',
    async (name, format) => {
      const page = await openFile(browser, fileOf(name))
      const pdf = await page.pdf({ format, printBackground: true })
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1)
    },
  )

  test.each(PAGES)('%s: nothing on paper is smaller than 7.5 points', async name => {
    expect(await smallText(browser, fileOf(name))).toEqual([])
  })

  test.each([390, 768, 1280])('at %d px the page does not scroll sideways', async width => {
    for (const name of PAGES) {
      const page = await openFile(browser, fileOf(name), { viewport: { width, height: 900 } })
      expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width)
    }
  })
})
