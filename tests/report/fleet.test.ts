import { HtmlValidate } from 'html-validate'
import { beforeAll, describe, expect, test } from 'vitest'
import type { FleetResults } from '../../src/fleet/fleet-results.ts'
import { renderFleetReport } from '../../src/report/fleet/render-fleet.ts'
import { COMMAND, fleetResults } from './fleet-fixture.ts'

/** Text of the page, one space between words. */
function textOf(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>|<[^>]+>/g, ' ')
    .replaceAll('&quot;', '"')
    .replace(/\s+/g, ' ')
}

describe('fleet.html (F7)', () => {
  let results: FleetResults
  let html: string
  beforeAll(async () => {
    results = await fleetResults()
    html = renderFleetReport(results, COMMAND)
  })

  test('html-validate finds nothing', async () => {
    const report = await new HtmlValidate({ extends: ['html-validate:recommended'] }).validateString(html)
    expect(
      report.results.flatMap(({ messages }) => messages.map(({ ruleId, message }) => `${ruleId}: ${message}`)),
    ).toEqual([])
  })

  test('the answer comes first: all sites, each site, how sure, what is left out', () => {
    const answer = textOf(html.slice(html.indexOf('<section class="answer"'), html.indexOf('<section class="part"')))
    expect(answer).toMatch(
      /^ The answer Have EUR [\d,]+ ready at the start and put aside EUR [\d,]+ a year for all 120 sites, EUR \d+ and EUR \d+ for each: in 9 of 10 futures that pays every bill\. In 1 of 10 futures it falls short/,
    )
    expect(answer).toContain('Played again with other luck, the sum at the start would move by about EUR')
    expect(answer).toContain('1 site could not be played and is in no figure; the last part says why.')
  })

  test('pooling is shown for 1, 10, 100 and all sites, with and without common cause', () => {
    const tables = textOf(html).split('Pooled, if nothing struck two at once ').slice(1)
    expect(tables).toHaveLength(2)
    const three = '( [\\d,]+){3} '
    for (const text of tables)
      expect(text).toMatch(new RegExp(`^1${three}10 \\(mean of 10 groups\\)${three}100${three}120${three}`))
  })

  test('years, models, makers, waves, reasons, cautions and the line that reproduces', () => {
    const text = textOf(html)
    for (const words of [
      'need most:',
      'Of 2 models, ',
      'Of 2 warranty providers, ',
      'The largest wave is that of ',
      'age_years: found -4; allowed: a number from 0 to 100 years',
      'Cautions',
      COMMAND,
      'Every figure is in fleet.json',
    ])
      expect(text).toContain(words)
  })

  test('a figure has no more digits than its standard error allows', () => {
    const { twoPart } = results.reserve
    const vague = { value: 123_456, standardError: 6000 }
    const reserve = { ...results.reserve, twoPart: { ...twoPart, ready: vague, perYear: vague } }
    expect(textOf(renderFleetReport({ ...results, reserve }, COMMAND))).toContain(
      'Have EUR 120,000 ready at the start and put aside EUR 120,000 a year for all 120 sites, EUR 1,000 and EUR 1,000 for each',
    )
  })

  test('a fleet of one site mentions one site, and no pool', async () => {
    const text = textOf(renderFleetReport(await fleetResults(1), COMMAND))
    expect(text).toContain('a year for the one site: in')
    expect(text).toContain('There is one site only, so there is nothing to pool.')
  })
})
