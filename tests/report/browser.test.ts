import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import type { Audience } from '../../src/report/estimate/parts.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { BROWSER_PATH, findingsOf, type Look, openBrowser, openFile } from './chromium.ts'
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

  const open = async (results: Results, audience: Audience, look: Look): Promise<Page> => {
    const file = join(folder, `${audience}.html`)
    writeFileSync(file, renderReport(results, { audience, command }))
    return openFile(browser, file, look)
  }

  test('no word on the console, no request, no script needed', async () => {
    const context = await browser.newContext({ ...DESK, javaScriptEnabled: false })
    const page = await context.newPage()
    const said: string[] = []
    const asked: string[] = []
    page.on('console', message => said.push(message.text()))
    page.on('pageerror', error => said.push(String(error)))
    page.on('request', request => asked.push(request.url()))
    const urls = (['buyer', 'retailer', 'owner'] as const).map(audience => {
      const file = join(folder, `${audience}.html`)
      writeFileSync(file, renderReport(homeResults(), { audience, command }))
      return pathToFileURL(file).href
    })
    for (const url of urls) {
      await page.goto(url)
      expect(await page.title()).toBe('Alder Row, 6.6 kW, four quotes')
    }
    expect(said).toEqual([])
    expect(asked).toEqual(urls)
    await context.close()
  })

  test.each([
    ['desk', DESK],
    ['phone', PHONE],
  ])('every chart is visible, and text in it is large enough to read: %s', async (width, options) => {
    const page = await open(homeResults(), 'buyer', options)
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
  })

  test.each([
    ['four options', homeResults()],
    ['one option', quietResults()],
    ['a name without a break', { ...homeResults(), scenario: { ...homeResults().scenario, title: 'x'.repeat(300) } }],
  ])('a phone does not scroll sideways: %s', async (_, results) => {
    const page = await open(results, 'buyer', PHONE)
    const wide = await page.evaluate<number>('document.documentElement.scrollWidth')
    expect(wide).toBe(360)
  })

  test('a wide table scrolls inside its own box on a phone', async () => {
    const page = await open(homeResults(), 'buyer', PHONE)
    const boxes = await page.$$eval('.scroll', found => found.map(box => box.scrollWidth > box.clientWidth))
    expect(boxes).toContain(true)
  })

  test.each([
    ['light, desk', { ...DESK, colorScheme: 'light' as const }],
    ['dark, phone', { ...PHONE, colorScheme: 'dark' as const }],
  ])('axe finds nothing serious: %s', async (_, options) => {
    const page = await open(homeResults(), 'buyer', { ...options, bypassCSP: true })
    const found = await findingsOf(page)
    expect(found.filter(line => /^(serious|critical)/.test(line))).toEqual([])
  })

  test('in the dark the paper is dark, on paper it is not', async () => {
    const page = await open(homeResults(), 'buyer', { ...DESK, colorScheme: 'dark' })
    const paper = () => page.evaluate<string>(`getComputedStyle(document.documentElement).getPropertyValue('--paper')`)
    expect(await paper()).toBe('#191a1c')
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
    expect(await paper()).toBe('#fffdf8')
  })

  test('a picture and a table are on the first screen of a desk: both were below the fold', async () => {
    const page = await open(homeResults(), 'buyer', { viewport: { width: 1280, height: 900 } })
    const bottoms = await page.evaluate<number[]>(`
      ['.opening .chart', '.opening .desk tbody tr:first-child']
        .map(one => document.querySelector(one).getBoundingClientRect().bottom)`)
    expect(Math.max(...bottoms)).toBeLessThan(900)
  })

  test.each(['A4', 'Letter'])('the retailer page fits one sheet of %s', async format => {
    const page = await open(homeResults(), 'retailer', { ...DESK, bypassCSP: true })
    await page.addStyleTag({
      content:
        'header, .answer, nav, main > :not(.for-the-retailer), .for-the-retailer .finding ~ .finding { display: none !important }',
    })
    const pdf = await page.pdf({ format, printBackground: true })
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length).toBe(1)
  })

  test('nothing on paper is wider than the sheet', async () => {
    const page = await open(homeResults(), 'buyer', { viewport: { width: 703, height: 900 }, media: 'print' })
    const over = await page.evaluate<string[]>(`
      [...document.querySelectorAll('table, svg.chart, p, h3')]
        .filter(one => one.getBoundingClientRect().right > window.innerWidth + 1)
        .map(one => one.textContent.slice(0, 60))`)
    expect(over).toEqual([])
  })
})
