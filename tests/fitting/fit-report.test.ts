import { readFileSync } from 'node:fs'
import { HtmlValidate } from 'html-validate'
import { describe, expect, it } from 'vitest'
import { fitRecords } from '../../src/fitting/fit-records.ts'
import type { FitSettings } from '../../src/fitting/fit-settings.ts'
import { readRecords } from '../../src/fitting/records/read-records.ts'
import { renderFitReport } from '../../src/report/fit/render-fit.ts'
import { BROWSER_PATH, findingsOf, openBrowser } from '../report/chromium.ts'

const settings: FitSettings = {
  file: 'service-records.csv',
  tool: { name: 'lifetally', version: '0' },
  ageUnit: 'years',
  seed: 1,
  shape: null,
  prior: null,
  warrantyYears: 5,
}

async function pageOf(csv: string): Promise<string> {
  async function* bytes() {
    yield new TextEncoder().encode(csv)
  }
  const records = await readRecords(bytes(), {
    file: settings.file,
    ageUnit: 'years',
    choice: { named: {}, groupBy: null },
    skipBadRows: false,
    asOfDay: null,
  })
  return renderFitReport(fitRecords(records, settings), 'lifetally fit service-records.csv --warranty-years 5')
}

const examplePage = await pageOf(readFileSync(new URL('../../examples/service-records.csv', import.meta.url), 'utf8'))
const SHORT =
  'model,end_age,outcome,count\nnew,3,working,40\n<b>old</b>,2,failed,1\n<b>old</b>,6,failed,2\n<b>old</b>,9,working,20\n'
const shortPage = await pageOf(SHORT)
const text = (html: string) =>
  html
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ')

describe('fit.html', () => {
  it('opens with the answer in plain words and requests nothing from outside', () => {
    const html = examplePage
    const said = text(html)
    expect(said).toContain(
      'The answer Of wall-a, 34 % fail within ten years (31 % to 38 % in 9 of 10 cases); a unit lasts 12.4 years on average.',
    )
    expect(said).toContain('wall-b: one unit in ten has failed by 4.62 years; the mean life is 10.2 years.')
    expect(said).toContain('The groups fail differently; do not mix them.')
    expect(said).toContain('wall-a: the curve and the records agree.')
    expect(html).not.toMatch(/<script|<link|<img|<iframe|url\((?!#)|@import|https?:\/\//i)
    expect(html).not.toMatch(/undefined|NaN|Infinity/)
  })

  it('a group without failures gets the bound, and names are never markup', () => {
    const html = shortPage
    const said = text(html)
    expect(said).toContain('new: no curve can be drawn; the records only set a least life.')
    expect(said).toContain('The shape is based on 3 failures.')
    expect(html).not.toContain('<b>old</b>')
  })

  it.each([
    ['the example', examplePage],
    ['few failures', shortPage],
  ])('is valid HTML: %s', async (_, html) => {
    const validator = new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: { 'long-title': 'off', 'no-trailing-whitespace': 'off' },
    })
    const report = await validator.validateString(html)
    expect(
      report.results.flatMap(result => result.messages.map(one => `${one.line} ${one.ruleId}: ${one.message}`)),
    ).toEqual([])
  })

  it.skipIf(BROWSER_PATH === null)('axe finds nothing serious, and a phone does not scroll sideways', async () => {
    const browser = await openBrowser()
    try {
      const page = await browser.newPage({ viewport: { width: 360, height: 740 }, bypassCSP: true })
      await page.setContent(examplePage)
      const found = await findingsOf(page)
      expect(found.filter(line => /^(serious|critical)/.test(line))).toEqual([])
      expect(await page.evaluate<number>('document.documentElement.scrollWidth')).toBe(360)
    } finally {
      await browser.close()
    }
  })
})
