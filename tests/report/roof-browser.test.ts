import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { roofFindings } from '../../src/energy/roof-findings.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { loadScenario } from '../../src/scenario/read-scenario.ts'
import { BROWSER_PATH, findingsOf, type Look, openBrowser, openFile } from './chromium.ts'
import { homeResults } from './fixture.ts'

/** The findings of the roof: each the parent of its heading. */
const ROOF = ['months', 'shade', 'power'].map(name => `*:has(> #roof-${name})`)
const ROOF_CHARTS = ROOF.map(finding => `${finding} svg.chart`).join(', ')

describe.skipIf(BROWSER_PATH === null)('the roof of a report in a browser', () => {
  let browser: Browser
  let folder: string
  let file: string
  beforeAll(async () => {
    browser = await openBrowser()
    folder = mkdtempSync(join(tmpdir(), 'lifetally-roof-'))
    file = join(folder, 'roof.html')
    const roof = roofFindings(await loadScenario('examples/shaded-three-faces.yaml'))
    const results = { ...homeResults(), roof }
    writeFileSync(file, renderReport(results, { audience: 'retailer', command: 'lifetally estimate roof.yaml' }))
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  const open = (options: Look): Promise<Page> => openFile(browser, file, options)

  test.each([360, 1100])('at %i px every chart of the roof can be read and nothing scrolls sideways', async width => {
    const page = await open({ viewport: { width, height: 900 } })
    const charts = await page.evaluate<{ width: number; smallest: number; empty: number }[]>(`
      [...document.querySelectorAll('${ROOF_CHARTS}')].map(svg => {
        const box = svg.getBoundingClientRect()
        const texts = [...svg.querySelectorAll('text')]
        const sizes = texts.map(text => parseFloat(getComputedStyle(text).fontSize) * box.width / 460)
        const empty = texts.filter(text => text.getBoundingClientRect().height === 0).length
        return { width: box.width, smallest: Math.min(...sizes), empty }
      })`)
    // a year by month of the best option, and where something is cut off, curves of power
    expect(charts.length).toBeGreaterThanOrEqual(2)
    for (const chart of charts) {
      expect(chart.width).toBeGreaterThan(300)
      expect(chart.smallest).toBeGreaterThan(10)
      expect(chart.empty).toBe(0)
    }
    expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBe(width)
  })

  test('no text of a chart overlaps another, or lies outside its chart', async () => {
    const page = await open({ viewport: { width: 360, height: 900 } })
    const faults = await page.evaluate<string[]>(`
      [...document.querySelectorAll('${ROOF_CHARTS}')].flatMap(svg => {
        const frame = svg.getBoundingClientRect()
        const boxes = [...svg.querySelectorAll('text')].map(text => ({ text: text.textContent, box: text.getBoundingClientRect() }))
        const outside = boxes.filter(({ box }) => box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1)
        const over = boxes.flatMap((a, i) => boxes.slice(i + 1).filter(b =>
          Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left) > 1 &&
          Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) > 4).map(b => a.text + ' / ' + b.text))
        return [...outside.map(({ text }) => 'outside: ' + text), ...over]
      })`)
    expect(await page.$$(ROOF_CHARTS)).not.toHaveLength(0)
    expect(faults).toEqual([])
  })

  test('axe finds nothing serious', async () => {
    const page = await open({ viewport: { width: 1100, height: 900 }, bypassCSP: true })
    const found = await findingsOf(page, ROOF.join(', '))
    expect(found.filter(line => /^(serious|critical)/.test(line))).toEqual([])
  })

  test('on A4 nothing of the roof is wider than the sheet', async () => {
    const page = await open({ viewport: { width: 680, height: 960 }, media: 'print' })
    const over = await page.evaluate<string[]>(`
      [...document.querySelectorAll('${ROOF.map(finding => `${finding} *`).join(', ')}')]
        .filter(one => one.getBoundingClientRect().right > window.innerWidth + 1)
        .map(one => one.tagName)`)
    expect(over).toEqual([])
  })
})
