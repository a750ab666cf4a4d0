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
  test('it has a row for every option, with its price, its cost and the visits of 100 roofs', () => {
    const results = homeResults()
    const html = sheetOf(results, 'buyer')
    for (const option of results.options) {
      const row = new RegExp(`<th scope="row">[^<]*\\(${option.id}\\)</th>([\\s\\S]*?)</tr>`).exec(html)?.[1] ?? ''
      const cells = [...row.matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(match => match[1] ?? '')
      // days of the whole roof cannot be compared where one option has units behind the panels
      expect(cells).toHaveLength(9)
      expect(cells[0]?.replace(/\D/g, '')).toBe(String(option.costs.upfront))
    }
  })

  test('the day is printed where one is given, and no other', () => {
    expect(sheetOf(homeResults(), 'buyer', '2027-03-14')).toContain('14 March 2027.')
    expect(sheetOf(homeResults(), 'buyer')).not.toMatch(/\d{4}\. Costs over/)
  })

  test('the page of a customer has what speaks for each dearer option and against it, with its error', () => {
    const html = sheetOf(homeResults(), 'retailer')
    const table = /<caption><span>What speaks for [^<]*and what against, EUR<[\s\S]*?<\/table>/.exec(html)?.[0] ?? ''
    for (const words of [
      'Price',
      'Cost over its life',
      'never pay for a visit',
      'Largest bill',
      'Years of repair bills that cover pays',
    ])
      expect(table).toContain(words)
    expect(table).toMatch(/>For B\?</)
    expect(table).toMatch(/>for</)
    expect(table).toMatch(/>against</)
    expect(table).toContain('\u00b1')
  })

  test('two that cost nearly the same have two costs: one figure used to be given for both', () => {
    const home = homeResults()
    const open = {
      ...home,
      comparisons: home.comparisons.map(pair => ({ ...pair, verdict: 'too close to call' as const })),
    }
    const answer = sheetOf(open, 'buyer').split('id="the-answer"')[1]?.split('</section>')[0] ?? ''
    expect(answer.match(/EUR [\d,]+ and EUR [\d,]+, so cost does not decide/g)).toHaveLength(1)
  })

  test('on a phone the options are the columns: six of eleven columns were out of sight', () => {
    const html = sheetOf(homeResults(), 'buyer')
    const phone = /class="scroll short phone"[\s\S]*?<\/table>/.exec(html)?.[0] ?? ''
    expect([...phone.matchAll(/<th scope="col"[^>]*>([^<]*)</g)].map(match => match[1])).toEqual([
      'Figure',
      'A',
      'B',
      'C',
      'D',
    ])
    expect(phone.match(/<tr>/g)).toHaveLength(10)
  })

  test('the years of a board are rows on a phone: they had to be scrolled sideways', () => {
    const html = sheetOf(homeResults(), 'owner')
    const phone = /class="scroll short phone"[^>]*aria-label="Table: Bills[\s\S]*?<\/table>/.exec(html)?.[0] ?? ''
    expect([...phone.matchAll(/<th scope="row"[^>]*>(Year \d+)</g)].map(match => match[1])).toEqual(
      Array.from({ length: 10 }, (_, year) => `Year ${year + 1}`),
    )
  })

  test('a question says which value holds for what: it used to say "10 years or 25 years or 5 years"', () => {
    for (const audience of ['buyer', 'retailer'] as const)
      expect(sheetOf(homeResults(), audience)).not.toMatch(/ssumed: [^.;<]* or /)
  })

  test('what is not counted, or for some only, is on every page', () => {
    const home = homeResults()
    const charged = home.options.map(one => (one.id === 'C' ? { ...one, costs: { ...one.costs, yearly: 467 } } : one))
    const notes = [{ code: 'no-dc-isolator', option: null, text: 'None is counted.' }]
    for (const audience of READERS) {
      const html = sheetOf({ ...home, options: charged, notes }, audience)
      expect(html).toContain('a DC isolator on the roof, which only strings need and which can fail')
      expect(html).toContain('a yearly cost (C)')
    }
  })

  test('a single option has a page too, for every reader', () => {
    const home = homeResults()
    const single = { ...home, options: home.options.slice(0, 1), comparisons: [], switchPoints: [] }
    for (const audience of READERS) expect(sheetOf(single, audience)).not.toMatch(/undefined|NaN|null/)
  })

  test('five questions are on the page of a buyer and of a customer', () => {
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

  test.each(READERS)('the page for a %s prints on one sheet of A4, and on one of Letter', async audience => {
    const page = await openFile(browser, join(folder, `${audience}.html`))
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = await page.pdf({ format, printBackground: true })
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g), format).toHaveLength(1)
    }
  })

  test.each(READERS)('%s: no table of the page is wider than a phone of 390 px', async audience => {
    const page = await openFile(browser, join(folder, `${audience}.html`), { viewport: { width: 390, height: 900 } })
    const wide = await page.evaluate<string[]>(`
      [...document.querySelectorAll('.scroll')]
        .filter(one => one.offsetParent !== null && one.scrollWidth > one.clientWidth)
        .map(one => one.getAttribute('aria-label'))`)
    expect(wide).toEqual([])
  })

  test.each(READERS)('%s: nothing on paper is smaller than 7.5 points', async audience => {
    expect(await smallText(browser, join(folder, `${audience}.html`))).toEqual([])
  })

  test.each([390, 768, 1280])('at %d px the page does not scroll sideways', async width => {
    for (const audience of READERS) {
      const page = await openFile(browser, join(folder, `${audience}.html`), { viewport: { width, height: 900 } })
      expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width)
    }
  })
})
