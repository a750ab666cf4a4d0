import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser, BrowserContextOptions, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import type { Audience } from '../../src/report/estimate/parts.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { AXE, BROWSER_PATH, openBrowser } from './chromium.ts'
import { homeResults, quietResults } from './fixture.ts'

const command = 'lifetally estimate alder-row.yaml'
const PHONE = { viewport: { width: 360, height: 740 } }
const DESK = { viewport: { width: 1280, height: 900 } }

describe.skipIf(BROWSER_PATH === null)('the report in a browser', () => {
  let browser: Browser
  let folder: string
  beforeAll(async () => {
    browser = await openBrowser()
    folder = mkdtempSync(join(tmpdir(), 'lifetally-report-'))
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  /** Opens a report from disk and records its console messages and requests. */
  async function open(
    results: Results,
    audience: Audience,
    options: BrowserContextOptions,
  ): Promise<{ page: Page; said: string[]; asked: string[] }> {
    const file = join(folder, `${audience}.html`)
    writeFileSync(file, renderReport(results, { audience, command }))
    const context = await browser.newContext(options)
    const page = await context.newPage()
    const said: string[] = []
    const asked: string[] = []
    page.on('console', message => said.push(message.text()))
    page.on('pageerror', error => said.push(String(error)))
    page.on('request', request => asked.push(request.url()))
    await page.goto(pathToFileURL(file).href)
    return { page, said, asked: asked.filter(url => url !== pathToFileURL(file).href) }
  }

  test.each<Audience>(['buyer', 'retailer', 'owner'])(
    '%s: no word on the console, no request, no script needed',
    async audience => {
      const { page, said, asked } = await open(homeResults(), audience, { ...DESK, javaScriptEnabled: false })
      expect(said).toEqual([])
      expect(asked).toEqual([])
      expect(await page.title()).toBe('Alder Row, 6.6 kW, four quotes')
      await page.context().close()
    },
  )

  test.each([
    ['desk', DESK],
    ['phone', PHONE],
  ])('every chart is visible, and text in it is large enough to read: %s', async (width, options) => {
    const { page } = await open(homeResults(), 'buyer', options)
    const charts = await page.evaluate<{ width: number; height: number; smallest: number; empty: number }[]>(`
      [...document.querySelectorAll('svg.chart')].map(svg => {
        const box = svg.getBoundingClientRect()
        const texts = [...svg.querySelectorAll('text')]
        const sizes = texts.map(text => parseFloat(getComputedStyle(text).fontSize) * box.width / 460)
        const empty = texts.filter(text => text.getBoundingClientRect().height === 0).length
        return { width: box.width, height: box.height, smallest: Math.min(...sizes), empty }
      })`)
    expect(charts.length).toBeGreaterThan(8)
    for (const chart of charts) {
      expect(chart.width).toBeGreaterThan(width === 'phone' ? 300 : 400)
      expect(chart.height).toBeGreaterThan(100)
      expect(chart.smallest).toBeGreaterThan(10)
      expect(chart.empty).toBe(0)
    }
    await page.context().close()
  })

  test.each([
    ['four options', homeResults()],
    ['one option', quietResults()],
    ['a name without a break', { ...homeResults(), scenario: { ...homeResults().scenario, title: 'x'.repeat(300) } }],
  ])('a phone does not scroll sideways: %s', async (_, results) => {
    const { page } = await open(results, 'buyer', PHONE)
    const wide = await page.evaluate<number>('document.documentElement.scrollWidth')
    expect(wide).toBe(360)
    await page.context().close()
  })

  test('a wide table scrolls inside its own box on a phone', async () => {
    const { page } = await open(homeResults(), 'buyer', PHONE)
    const boxes = await page.$$eval('.scroll', found => found.map(box => box.scrollWidth > box.clientWidth))
    expect(boxes).toContain(true)
    await page.context().close()
  })

  test.each([
    ['light, desk', { ...DESK, colorScheme: 'light' as const }],
    ['dark, phone', { ...PHONE, colorScheme: 'dark' as const }],
  ])('axe finds nothing serious: %s', async (_, options) => {
    const { page } = await open(homeResults(), 'buyer', { ...options, bypassCSP: true })
    await page.evaluate(AXE)
    const found = await page.evaluate<string[]>(`axe.run().then(({ violations }) =>
      violations.map(({ id, impact, nodes }) => impact + ' ' + id + ': ' + nodes[0].html.slice(0, 160)))`)
    expect(found.filter(line => /^(serious|critical)/.test(line))).toEqual([])
    await page.context().close()
  })

  test('in the dark the paper is dark, on paper it is not', async () => {
    const { page } = await open(homeResults(), 'buyer', { ...DESK, colorScheme: 'dark' })
    const paper = () => page.evaluate<string>(`getComputedStyle(document.documentElement).getPropertyValue('--paper')`)
    expect(await paper()).toBe('#191a1c')
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
    expect(await paper()).toBe('#fffdf8')
    await page.context().close()
  })

  test('a picture and a table are on the first screen of a desk: both were below the fold', async () => {
    const { page } = await open(homeResults(), 'buyer', { viewport: { width: 1280, height: 900 } })
    const bottoms = await page.evaluate<number[]>(`
      ['.opening .chart', '.opening .desk tbody tr:first-child']
        .map(one => document.querySelector(one).getBoundingClientRect().bottom)`)
    expect(Math.max(...bottoms)).toBeLessThan(900)
    await page.context().close()
  })

  test.each(['A4', 'Letter'])('prints on %s', async format => {
    const { page } = await open(homeResults(), 'retailer', DESK)
    const pdf = await page.pdf({ format, printBackground: true })
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-')
    const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0
    expect(pages).toBeGreaterThan(6)
    expect(pages).toBeLessThanOrEqual(15)
    await page.context().close()
  })

  test.each(['A4', 'Letter'])('the retailer page fits one sheet of %s', async format => {
    const { page } = await open(homeResults(), 'retailer', { ...DESK, bypassCSP: true })
    await page.addStyleTag({
      content:
        'header, .answer, nav, main > :not(.for-the-retailer), .for-the-retailer .finding ~ .finding { display: none !important }',
    })
    const pdf = await page.pdf({ format, printBackground: true })
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length).toBe(1)
    await page.context().close()
  })

  test('nothing on paper is wider than the sheet', async () => {
    const { page } = await open(homeResults(), 'buyer', { viewport: { width: 703, height: 900 } })
    await page.emulateMedia({ media: 'print' })
    const over = await page.evaluate<string[]>(`
      [...document.querySelectorAll('table, svg.chart, p, h3')]
        .filter(one => one.getBoundingClientRect().right > window.innerWidth + 1)
        .map(one => one.textContent.slice(0, 60))`)
    expect(over).toEqual([])
    await page.context().close()
  })
})
