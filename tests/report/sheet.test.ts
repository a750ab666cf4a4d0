import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import type { Audience } from '../../src/report/estimate/parts.ts'
import { renderSheet } from '../../src/report/sheet/render-sheet.ts'
import { BROWSER_PATH, openBrowser, openFile } from './chromium.ts'
import { homeResults } from './fixture.ts'
import { smallText } from './small-text.ts'

const READERS: readonly Audience[] = ['buyer', 'retailer', 'owner']

const sheetOf = (results: Results, audience: Audience, date: string | null = null): string =>
  renderSheet(results, { audience, date }).replace(/\u00a0/g, ' ')

describe('the sheet in words', () => {
  test('it has a row for every option, with its price, its cost and how 100 roofs fare', () => {
    const results = homeResults()
    const html = sheetOf(results, 'buyer')
    for (const option of results.options) {
      const row = new RegExp(`<th scope="row">[^<]*\\(${option.id}\\)</th>([\\s\\S]*?)</tr>`).exec(html)?.[1] ?? ''
      const cells = [...row.matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(match => match[1] ?? '')
      expect(cells).toHaveLength(10)
      expect(cells[0]?.replace(/\D/g, '')).toBe(String(option.costs.upfront))
    }
  })

  test('the day is printed where one is given, and no other', () => {
    expect(sheetOf(homeResults(), 'buyer', '2027-03-14')).toContain('14 March 2027.')
    expect(sheetOf(homeResults(), 'buyer')).not.toMatch(/\d{4}\. Costs over/)
  })

  test('the page of a customer holds the case for the dearer option and the case against it', () => {
    const html = sheetOf(homeResults(), 'retailer')
    expect(html).toMatch(/<h2>For [^<]+<\/h2>/)
    expect(html).toMatch(/<h2>Against [^<]+<\/h2>/)
  })

  test('a single option has a page too, for every reader', () => {
    const home = homeResults()
    const single = { ...home, options: home.options.slice(0, 1), comparisons: [], switchPoints: [] }
    for (const audience of READERS) expect(sheetOf(single, audience)).not.toMatch(/undefined|NaN|null/)
  })

  test('five questions stand on the page of a buyer and of a customer', () => {
    for (const audience of ['buyer', 'retailer'] as const) {
      const box = sheetOf(homeResults(), audience).split('<h2>Ask before you sign</h2>')[1] ?? ''
      expect(box.split('</section>')[0]?.match(/<li>/g)).toHaveLength(5)
    }
  })
})

describe.skipIf(BROWSER_PATH === null)('the sheet on paper and on screens', () => {
  let browser: Browser
  let folder: string
  beforeAll(async () => {
    browser = await openBrowser()
    folder = mkdtempSync(join(tmpdir(), 'lifetally-sheet-'))
    for (const audience of READERS) {
      writeFileSync(join(folder, `${audience}.html`), renderSheet(homeResults(), { audience, date: '2027-03-14' }))
    }
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  test.each(READERS.flatMap(audience => [[audience, 'A4'] as const, [audience, 'Letter'] as const]))(
    'the page for a %s prints on one sheet of %s',
    async (audience, format) => {
      const page = await openFile(browser, join(folder, `${audience}.html`), {})
      const pdf = await page.pdf({ format, printBackground: true })
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1)
      await page.context().close()
    },
  )

  test.each(READERS)('%s: nothing on paper is smaller than 7.5 points', async audience => {
    expect(await smallText(browser, join(folder, `${audience}.html`))).toEqual([])
  })

  test.each([390, 768, 1280])('at %d px the page does not scroll sideways', async width => {
    for (const audience of READERS) {
      const page = await openFile(browser, join(folder, `${audience}.html`), { viewport: { width, height: 900 } })
      expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width)
      await page.context().close()
    }
  })
})
