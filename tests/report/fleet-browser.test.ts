import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { renderFleetReport } from '../../src/report/fleet/render-fleet.ts'
import { BROWSER_PATH, findingsOf, type Look, openBrowser, openFile } from './chromium.ts'
import { COMMAND, fleetResults } from './fleet-fixture.ts'

const PHONE = { viewport: { width: 390, height: 844 } }
const DESK = { viewport: { width: 1280, height: 900 } }

describe.skipIf(BROWSER_PATH === null)('fleet.html in a browser', () => {
  let browser: Browser
  let folder: string
  let file: string
  beforeAll(async () => {
    browser = await openBrowser()
    folder = mkdtempSync(join(tmpdir(), 'lifetally-fleet-report-'))
    file = join(folder, 'fleet.html')
    writeFileSync(file, renderFleetReport(await fleetResults(), COMMAND))
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  const open = (options: Look): Promise<Page> => openFile(browser, file, options)

  test.each([
    ['phone', PHONE],
    ['desk', DESK],
  ])('%s: nothing to scroll sideways, every chart whole, its text large enough', async (_, options) => {
    const page = await open(options)
    const width = options.viewport.width
    expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBe(width)
    const charts = await page.evaluate<{ left: number; right: number; smallest: number; cut: string[] }[]>(`
      [...document.querySelectorAll('svg.chart')].map(svg => {
        const box = svg.getBoundingClientRect()
        const texts = [...svg.querySelectorAll('text')]
        const sizes = texts.map(text => parseFloat(getComputedStyle(text).fontSize) * box.width / 460)
        const over = text => { const { left, right } = text.getBoundingClientRect(); return left < 0 || right > innerWidth }
        return { left: box.left, right: box.right, smallest: Math.min(...sizes), cut: texts.filter(over).map(text => text.textContent) }
      })`)
    expect(charts).toHaveLength(4)
    for (const chart of charts) {
      expect(chart.left).toBeGreaterThanOrEqual(0)
      expect(chart.right).toBeLessThanOrEqual(width)
      expect(chart.smallest).toBeGreaterThan(10)
      expect(chart.cut).toEqual([])
    }
  })

  test.each([
    ['light, desk', { ...DESK, colorScheme: 'light' as const }],
    ['dark, phone', { ...PHONE, colorScheme: 'dark' as const }],
  ])('axe finds nothing: %s', async (_, options) => {
    const page = await open({ ...options, bypassCSP: true })
    const found = await findingsOf(page)
    expect(found).toEqual([])
  })

  test('prints on A4 in a few pages, nothing wider than the sheet', async () => {
    const page = await open({ viewport: { width: 680, height: 900 } })
    const pdf = await page.pdf({ format: 'A4', printBackground: true })
    const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0
    expect(pages).toBeGreaterThan(2)
    expect(pages).toBeLessThan(8)
    await page.emulateMedia({ media: 'print' })
    const over = await page.evaluate<string[]>(`
      [...document.querySelectorAll('table, svg.chart, p, h3')]
        .filter(one => one.getBoundingClientRect().right > window.innerWidth + 1)
        .map(one => one.textContent.slice(0, 60))`)
    expect(over).toEqual([])
    const kept = await page.evaluate<string[]>(`
      [...document.querySelectorAll('h2, h3, figcaption, caption')].map(one => getComputedStyle(one).breakAfter)`)
    expect(new Set(kept)).toEqual(new Set(['avoid']))
  })
})
