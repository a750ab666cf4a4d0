import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Audience } from '../../src/report/estimate/parts.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { BROWSER_PATH, findingsOf, type Look, openBrowser, openFile } from './chromium.ts'
import { homeResults } from './fixture.ts'

const READERS: readonly Audience[] = ['buyer', 'retailer', 'owner']
const DESK = { viewport: { width: 1280, height: 900 } }

/** A stop of the tab key. */
interface Stop {
  readonly name: string
  /** Place among all elements of the page. */
  readonly place: number
  readonly outlined: boolean
  readonly inView: boolean
}

describe.skipIf(BROWSER_PATH === null)('the report for people who see, move or read otherwise', () => {
  let browser: Browser
  let folder: string
  beforeAll(async () => {
    browser = await openBrowser()
    folder = mkdtempSync(join(tmpdir(), 'lifetally-access-'))
    for (const audience of READERS) {
      writeFileSync(
        fileOf(audience),
        renderReport(homeResults(), { audience, command: 'lifetally estimate roof.yaml' }),
      )
    }
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  const fileOf = (audience: Audience): string => join(folder, `${audience}.html`)
  const open = (audience: Audience, options: Look): Promise<Page> => openFile(browser, fileOf(audience), options)

  // 1280 pixels at 200 % and at 400 %, which is what WCAG 2.2, 1.4.10 asks for
  test.each(READERS.flatMap(audience => [640, 320].map(width => [audience, width] as const)))(
    '%s at %i px: only tables scroll sideways, each in a box with a name that the keyboard reaches',
    async (audience, width) => {
      const page = await open(audience, { viewport: { width, height: 450 } })
      expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBe(width)
      const out = await page.evaluate<string[]>(`
        [...document.querySelectorAll('body *')]
          .filter(one => !one.closest('.scroll') && one.getBoundingClientRect().right > innerWidth + 1)
          .map(one => one.tagName + ' ' + one.textContent.trim().slice(0, 40))`)
      expect(out).toEqual([])
      const boxes = await page.evaluate<{ name: string | null; role: string | null; tabIndex: number }[]>(`
        [...document.querySelectorAll('body *')]
          .filter(one => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflowX === 'auto')
          .map(one => ({ name: one.getAttribute('aria-label'), role: one.getAttribute('role'), tabIndex: one.tabIndex }))`)
      expect(boxes.length).toBeGreaterThan(0)
      for (const box of boxes)
        expect(box).toEqual({ name: expect.stringMatching(/^Table: ./), role: 'group', tabIndex: 0 })
    },
  )

  test.each(READERS)(
    '%s by keyboard: the skip link first, then every stop in reading order, visible and outlined',
    async audience => {
      const page = await open(audience, DESK)
      const wanted = await page.evaluate<number>(
        // a table that is for phones only is no stop on a desk
        `[...document.querySelectorAll('a[href], [tabindex="0"]')].filter(one => one.checkVisibility()).length`,
      )
      const stops: Stop[] = []
      for (let stop = await nextStop(page); stop !== null; stop = await nextStop(page)) stops.push(stop)
      expect(stops.length).toBe(wanted)
      expect(stops[0]?.name).toBe('Skip to the findings')
      const places = stops.map(stop => stop.place)
      expect(places).toEqual([...places].sort((a, b) => a - b))
      for (const stop of stops) expect(stop).toMatchObject({ outlined: true, inView: true })
    },
  )

  test.each(READERS)('%s: the skip link leads past the contents', async audience => {
    const page = await open(audience, DESK)
    await page.keyboard.press('Tab')
    await page.keyboard.press('Enter')
    await page.waitForURL(url => url.hash === `#for-the-${audience}`)
    await page.keyboard.press('Tab')
    expect(await page.evaluate<boolean>(`document.activeElement.closest('.for-the-${audience}') !== null`)).toBe(true)
  })

  test.each(READERS)('%s read aloud: headings without a jump, tables and charts with their words', async audience => {
    const page = await open(audience, DESK)
    const levels = await page.evaluate<number[]>(
      `[...document.querySelectorAll('h1, h2, h3, h4, h5, h6')].map(one => Number(one.tagName[1]))`,
    )
    expect(levels.filter(level => level === 1)).toHaveLength(1)
    levels.forEach((level, index) => {
      expect(level - (levels[index - 1] ?? 0)).toBeLessThanOrEqual(1)
    })
    const bare = await page.evaluate<string[]>(`[
      ...[...document.querySelectorAll('table')]
        .filter(one => !one.caption?.textContent.trim() || !one.tHead).map(one => 'table ' + one.textContent.trim().slice(0, 40)),
      ...[...document.querySelectorAll('th:not([scope]), th:empty')].map(one => 'th ' + one.textContent),
      ...[...document.querySelectorAll('tbody tr')].filter(one => one.querySelector('th') === null && !one.classList.contains('more'))
        .map(one => 'row ' + one.textContent.trim().slice(0, 40)),
      ...[...document.querySelectorAll('svg')].filter(one => !one.closest('[aria-hidden="true"]')
        && !(one.getAttribute('role') === 'img' && one.querySelector('title')?.textContent && one.querySelector('desc')?.textContent))
        .map(one => 'svg ' + one.outerHTML.slice(0, 80)),
    ]`)
    expect(bare).toEqual([])
  })

  // the other widths and schemes are looked at in browser.test.ts; the parts are the same for every reader
  test('at 400 % axe finds nothing', async () => {
    const page = await open('owner', { viewport: { width: 320, height: 450 }, bypassCSP: true })
    const found = await findingsOf(page)
    expect(found).toEqual([])
  })

  test.each(['light', 'dark'] as const)(
    'where the system sets the colours, lines and letters of charts stand out: %s',
    async colorScheme => {
      const page = await open('buyer', { ...DESK, colorScheme, forcedColors: 'active' })
      const { paper, inks } = await page.evaluate<{ paper: string; inks: string[] }>(`({
      paper: getComputedStyle(document.documentElement).backgroundColor,
      inks: [
        ...[...document.querySelectorAll('.chart text')].map(one => getComputedStyle(one).fill),
        ...[...document.querySelectorAll('.chart :is(.axis, .zero, .level, .mark, .slice, .ring)')].map(one => getComputedStyle(one).stroke),
      ] })`)
      expect(inks.length).toBeGreaterThan(100)
      expect(new Set(inks).size).toBe(1)
      expect(contrast(inks[0] ?? '', paper)).toBeGreaterThan(7)
    },
  )

  test('nothing moves by itself', async () => {
    const page = await open('buyer', { ...DESK, reducedMotion: 'reduce' })
    const moving = await page.evaluate<string[]>(`
      [document.documentElement, ...document.querySelectorAll('body *')].map(one => [one, getComputedStyle(one)])
        .filter(([, style]) => style.animationName !== 'none' || style.transitionDuration !== '0s' || style.scrollBehavior !== 'auto')
        .map(([one]) => one.tagName)`)
    expect(moving).toEqual([])
  })
})

/** Presses the tab key; null where it leaves the page. */
async function nextStop(page: Page): Promise<Stop | null> {
  await page.keyboard.press('Tab')
  return page.evaluate<Stop | null>(`(() => {
    const one = document.activeElement
    if (one === null || one === document.body) return null
    const style = getComputedStyle(one)
    const box = one.getBoundingClientRect()
    return {
      name: one.getAttribute('aria-label') ?? one.textContent.trim(),
      place: [...document.querySelectorAll('*')].indexOf(one),
      outlined: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
      inView: box.width > 5 && box.height > 5 && box.top < innerHeight && box.bottom > 0,
    }
  })()`)
}

/** Contrast of two colours written as `rgb(r, g, b)` (WCAG 2.2, relative luminance). */
function contrast(one: string, other: string): number {
  const luminance = (colour: string): number => {
    const [r = 0, g = 0, b = 0] = (colour.match(/\d+/g) ?? []).map(part => {
      const share = Number(part) / 255
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
    })
    return 0.2126 * r + 0.7152 * g + 0.0722 * b
  }
  const [high = 1, low = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a)
  return (high + 0.05) / (low + 0.05)
}
