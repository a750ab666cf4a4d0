import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { componentOfAssumption, ownerOf } from '../../src/report/estimate/by-option.ts'
import { assumptions } from '../../src/report/estimate/frame/assumptions.ts'
import type { Audience } from '../../src/report/estimate/parts.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { type View, viewOf } from '../../src/report/estimate/view.ts'
import { formatAssumption, formatInputRange } from '../../src/report/format/input.ts'
import type { Assumption } from '../../src/scenario/model/assumption.ts'
import { run } from '../cli/run.ts'
import { BROWSER_PATH, openBrowser, openFile } from './chromium.ts'
import { smallText } from './small-text.ts'

const READERS: readonly Audience[] = ['buyer', 'retailer', 'owner']

describe.skipIf(BROWSER_PATH === null)('the report of the first example on paper', () => {
  let browser: Browser
  let folder: string
  let two: string
  let results: Results
  beforeAll(async () => {
    browser = await openBrowser()
    folder = mkdtempSync(join(tmpdir(), 'lifetally-print-'))
    two = join(folder, 'two')
    for (const [example, out] of [
      ['home-four-topologies', folder],
      ['measured-year', two],
    ] as const) {
      const played = run(['estimate', `examples/${example}.yaml`, '--draws', '100', '--quiet', '--out', out])
      expect(played.error).toBe('')
    }
    results = JSON.parse(readFileSync(join(folder, 'results.json'), 'utf8'))
    for (const audience of READERS) {
      writeFileSync(
        join(folder, `${audience}.html`),
        renderReport(results, { audience, command: 'lifetally estimate' }),
      )
    }
  })
  afterAll(async () => {
    await browser?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  async function sheetsOf(page: Page, format: 'A4' | 'Letter'): Promise<number> {
    const pdf = await page.pdf({ format, printBackground: true })
    return pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0
  }

  /** As wide as A4 between its margins, laid out for paper. */
  function onPaper(audience: Audience): Promise<Page> {
    return openFile(browser, join(folder, `${audience}.html`), {
      viewport: { width: 703, height: 1039 },
      media: 'print',
    })
  }

  test.each(READERS)('%s: four quotes on at most 13 sheets of A4, 14 of Letter; it used to take 22', async audience => {
    const page = await openFile(browser, join(folder, `${audience}.html`))
    const [a4, letter] = [await sheetsOf(page, 'A4'), await sheetsOf(page, 'Letter')]
    expect(a4).toBeGreaterThan(8)
    expect(a4).toBeLessThanOrEqual(13)
    // a shorter sheet
    expect(letter).toBeGreaterThan(8)
    expect(letter).toBeLessThanOrEqual(14)
  })

  test('two quotes: at most 10 sheets of A4, 10 of Letter', async () => {
    const page = await openFile(browser, join(two, 'report.html'))
    expect(await sheetsOf(page, 'A4')).toBeLessThanOrEqual(10)
    expect(await sheetsOf(page, 'Letter')).toBeLessThanOrEqual(10)
  })

  test('nothing is set smaller than 7.5 points, in charts as little as in tables', async () => {
    expect(await smallText(browser, join(folder, 'buyer.html'), ', .skip, .scenario-key')).toEqual([])
  })

  test('no chart, table or line is wider than the sheet, and no text of a chart leaves it', async () => {
    const page = await onPaper('buyer')
    const over = await page.evaluate<string[]>(`
      [...document.querySelectorAll('table, svg.chart, svg.chart text, p, h3, li')]
        .filter(one => !one.closest('.skip') && (one.getBoundingClientRect().right > innerWidth + 1 || one.getBoundingClientRect().left < -1))
        .map(one => one.tagName + ' ' + one.textContent.slice(0, 60))`)
    expect(over).toEqual([])
  })

  test('headings stay with what follows; rows, charts and short tables are never cut', async () => {
    const page = await onPaper('buyer')
    const styles = await page.evaluate<Record<string, string[]>>(`(() => {
      const all = (selector, property) => [...new Set([...document.querySelectorAll(selector)].map(one => getComputedStyle(one)[property]))]
      return {
        headings: all('h2, h3, figcaption, caption, .list-lead, tr.source', 'breakAfter'),
        whole: all('h2, h3, figure, tr, .short, .points li', 'breakInside'),
        followers: all('tr.more, tr.source + tr', 'breakBefore'),
        head: all(':not(.assumptions *) > thead', 'display'),
      }
    })()`)
    expect(styles).toEqual({
      headings: ['avoid'],
      whole: ['avoid'],
      followers: ['avoid'],
      head: ['table-header-group'],
    })
  })

  test('no assumption is lost: value, range, source, grade and every place of each are in the list', async () => {
    const view = viewOf(results)
    const tables = assumptions(view)
    for (const input of results.inputs) {
      const key = input.key.split(' / ').at(-1) ?? ''
      const group = tables
        .filter(table => table.caption.toLowerCase().startsWith(input.known))
        .flatMap(table => table.groups)
        .find(
          one => one.source.length === 0 || input.source.toLowerCase().startsWith(one.source[0]?.toLowerCase() ?? '?'),
        )
      const value = formatAssumption(input)
      const range = input.low === null ? '' : formatInputRange(input.low, input.high, input.unit)
      const line = group?.entries
        .filter(entry => entry.key === key)
        .flatMap(entry => [entry.first, ...entry.more])
        .find(
          cells =>
            cells[0]?.text.startsWith(value) &&
            cells[0].text.endsWith(range) &&
            holds(view, cells[1]?.text ?? '', input),
        )
      expect(line, input.key).toBeDefined()
    }
    // and nothing is listed twice: far fewer lines than assumptions
    const lines = tables
      .flatMap(table => table.groups)
      .flatMap(group => group.entries.flatMap(entry => [entry.first, ...entry.more]))
    expect(lines.length).toBeLessThan(results.inputs.length / 2)
  })
})

/** Whether words of place take in the option and component of an assumption. */
function holds(view: View, words: string, input: Assumption): boolean {
  const owner = ownerOf(view, input)
  if (owner === null || words === 'all options') return words === 'all options'
  const component = componentOfAssumption(view, input)
  const letters = (text: string): string[] => text.match(/[A-Z]+/g) ?? []
  if (component === null) return letters(words).includes(owner.id)
  return (
    words === 'every component' ||
    words
      .split('; ')
      .filter(part => part.startsWith(component.replaceAll('-', ' ').replace('panel level', 'panel-level')))
      .some(part => letters(part).length === 0 || letters(part).includes(owner.id))
  )
}
