import { HtmlValidate } from 'html-validate'
import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import type { Audience } from '../../src/report/estimate/parts.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { closeResults, homeResults, quietResults } from './fixture.ts'

const command = 'lifetally estimate alder-row.yaml --seed 1 --draws 20000 --for buyer'
const render = (results: Results, audience: Audience = 'buyer'): string => renderReport(results, { audience, command })
const text = (html: string): string =>
  html
    .replace(/<style>[\s\S]*<\/style>/, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/[\s\u00a0]+/g, ' ')

function renamed(results: Results, name: string, title: string): Results {
  return {
    ...results,
    scenario: { ...results.scenario, title },
    options: results.options.map((option, index) => (index === 0 ? { ...option, name } : option)),
  }
}

describe('the report', () => {
  test('has the title of the scenario and requests nothing from outside', () => {
    const html = render(homeResults())
    expect(html).toContain('<title>Alder Row, 6.6 kW, four quotes</title>')
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"`)
    expect(html).not.toMatch(/<script|<link|<img|<iframe|url\((?!#)|@import|https?:\/\//i)
  })
  test('opens with the answer, with the same-reliability case next to it', () => {
    const said = text(render(homeResults()))
    const answer = said.slice(said.indexOf('The answer'), said.indexOf('The options'))
    expect(answer).toContain('Robust string inverter (B) is expected to cost least: about EUR 7,960')
    expect(answer).toContain('is a judgement: no independent field data show it.')
    expect(answer).toContain('Robust string inverter (B) would be about EUR 100 dearer than Plain string inverter (A)')
  })
  test('C7 the picture of the bars has a key for what is taken off, where something is', () => {
    const results = homeResults()
    expect(render(results)).not.toContain('Taken off:')
    const options = results.options.map((one, i) =>
      i === 3 ? { ...one, costs: { ...one.costs, batteryEarnings: -3000, residual: -200 } } : one,
    )
    const said = render({ ...results, options })
    expect(text(said)).toContain('Taken off: what the battery earns and worth left at the end')
    expect(text(said)).toContain('Lifetime cost: what is left')
  })
  test('O7 a battery of unknown worth: no verdict, no part in the ranking, and what it would have to earn', () => {
    const home = homeResults()
    const unknown = {
      ...home,
      options: home.options.map(one => (one.id === 'D' ? { ...one, batteryWorth: 'unknown' as const } : one)),
      comparisons: home.comparisons.map(pair =>
        pair.option === 'D' || pair.against === 'D'
          ? { ...pair, verdict: null, batteryWouldHaveToEarnPerDay: 1.234 }
          : pair,
      ),
    }
    const said = text(render(unknown))
    const answer = said.slice(said.indexOf('The answer'), said.indexOf('The options'))
    expect(answer).toContain(
      'Hybrid (D) has a battery, so it does not do the same job and is left out of this ranking.',
    )
    expect(answer).toContain('the battery of Hybrid (D) would have to earn about EUR 1.23 a day, its outages counted')
    expect(said).toContain('do not do the same job, so no verdict is given')
    expect(text(render(unknown, 'retailer'))).toContain(
      'For option D (a hybrid inverter) by cost: it does not do the same job.',
    )
  })
  test('says when two options cannot be distinguished', () => {
    expect(text(render(closeResults()))).toContain('cost does not decide between them')
  })
  test.each<[Audience, number]>([
    ['buyer', 10],
    ['retailer', 10],
    ['owner', 10],
  ])('holds what the %s decides from, and a sentence of all that the others do', (audience, findings) => {
    const html = render(homeResults(), audience)
    expect([...html.matchAll(/<h2 id="(for-the-\w+)"/g)].map(match => match[1])).toEqual([`for-the-${audience}`])
    const numbers = [...html.matchAll(/<span class="number">(\d+)<\/span>/g)].map(match => Number(match[1]))
    expect(numbers).toEqual(numbers.map((_, index) => index + 1))
    expect(numbers.length).toBe(findings)
    const further = html.split('id="further"')[1]?.split('</section>')[0] ?? ''
    expect(numbers.length + (further.match(/<li>/g)?.length ?? 0)).toBe(16)
    expect(further).not.toContain(`--for ${audience}`)
  })
  test('every finding has a margin note, and a picture or a table; the answer has both', () => {
    const html = render(homeResults())
    const articles = html
      .split('<article')
      .slice(1)
      .map(article => article.split('</article>')[0] ?? '')
    for (const article of articles) {
      expect(article).toMatch(/<aside class="margin"[\s\S]*?<b>(Yours|Published|Recalled|Judgement)/)
      expect(article).toMatch(/<table>|role="img"/)
    }
    const answer = html.split('id="the-answer"')[1]?.split('</section>')[0] ?? ''
    expect(answer).toContain('<table>')
    expect(answer).toContain('role="img"')
  })
  test('the retailer page names no option by its given name', () => {
    const home = renamed(homeResults(), 'Brandish Nine', 'T')
    const point = { option: 'A', unit: 'years', present: 5, value: 9, low: 0, high: 25, halfFailBy: null }
    const html = render(
      {
        ...home,
        switchPoints: [{ ...point, input: 'cover (Brandish Nine)', differenceThere: 1, standardError: 4, draws: 4000 }],
      },
      'retailer',
    )
    const page = html.split('id="retailer-page"')[1]?.split('</article>')[0] ?? ''
    expect(text(page)).toContain('When not to make it')
    // the words under the chart's description are read aloud, so they count
    expect(page).not.toContain('Brandish Nine')
  })
  test('markup, emoji and right-to-left marks in names stay text', () => {
    const html = render(
      renamed(homeResults(), '<img src=x onerror=alert(1)> & \u202eevil \ud83d\ude00', '</title><script>x</script>'),
    )
    expect(html).not.toMatch(/<img|<script|\u202e/)
    expect(html).toContain('&lt;img src=x onerror=alert(1)&gt; &amp; evil \ud83d\ude00 (A)')
    expect(html).toContain('<title>&lt;/title&gt;&lt;script&gt;x&lt;/script&gt;</title>')
  })
  test('renders with one option, nothing that fails and nothing that is \u00b1', () => {
    const said = text(render(quietResults()))
    expect(said).toContain('Only one (A) is expected to cost about EUR 6,900')
    expect(said).toContain('no claim was made')
    expect(said).not.toMatch(/undefined|NaN|null|Infinity|\[object/)
  })
  test('no figure of the simulation is written into the text: other results, other words', () => {
    const home = homeResults()
    const other: Results = {
      ...home,
      options: home.options.map(option => ({
        ...option,
        visitShares: { none: 0.07, one: 0.11, twoOrMore: 0.82 },
        largestYear: { p50: 90, p90: 4321, standardErrors: { p50: 3, p90: 12 } },
        reserve: { ...option.reserve, twoPart: { ready: 1900, perYear: 777, confidence: 0.9 } },
      })),
    }
    expect(text(render(other))).toContain(
      '7 of 100 roofs never pay for a visit, 11 pay for one, 82 for two or more. In 9 of 10 lifetimes no year brings a bill over EUR 4,320. For Robust string inverter (B), have EUR 1,900 ready at the start and put aside EUR 780 a year, EUR 65 a month: in 9 of 10 lifetimes that pays every bill.',
    )
  })
  test('the largest bill is one figure: the headline used to give that of years 10 to 15, below that of the table', () => {
    const [option] = homeResults().options.filter(({ id }) => id === 'B')
    const most = /EUR (\S+) in one year: in 9 of 10 lifetimes no year costs more/.exec(text(render(homeResults())))?.[1]
    expect(Number(most?.replace(',', ''))).toBeCloseTo(option?.largestYear.p90 ?? 0, -2)
  })
  test('R3 new equipment has used up nothing, and no column says that nothing should be there', () => {
    expect(text(render(homeResults(), 'owner'))).not.toMatch(/in the reserve today|Should be there today/)
  })
  test('R3 percent funded is per cent: it used to be read as a share', () => {
    const home = homeResults()
    const aged: Results = {
      ...home,
      options: home.options.map(option => ({
        ...option,
        reserve: { ...option.reserve, fullyFundedBalance: 5100, percentFunded: 48.6 },
      })),
    }
    expect(text(render(aged))).toContain('EUR 5,100 should be in the reserve today; 49 % of it is.')
  })
  test('S1 the swing says which option is the cheaper above zero', () => {
    const said = text(render(homeResults()))
    expect(said).toContain('The answer is the lifetime cost of B less that of A: above zero A is the cheaper.')
  })
  test('paper cover is never given without effective cover', () => {
    const said = text(render(homeResults()))
    expect(said).toMatch(
      /warranty of [^;]+ promises 90 % of the cost of parts; of the whole repair bills you are spared \d+ %/,
    )
  })
  test('lists every assumption, the self-check, the cautions and the command', () => {
    const said = text(render(homeResults()))
    for (const input of homeResults().inputs) expect(said).toContain(` ${input.key.split(' / ').at(-1)} `)
    expect(said).toContain('the largest gap is 1.3 standard errors')
    expect(said).toContain('licensed electricians only')
    expect(said).toContain('stays live in daylight')
    expect(said).toContain('work at height')
    expect(said).toContain('planning figures, not advice')
    expect(said).toContain('seed 1, 20,000 lifetimes an option in 20 blocks')
    // X3: the error reached
    expect(said).toContain('or of a difference of two, is 0.090 % of the lowest lifetime cost')
    expect(said).toContain(command)
  })
  test('X1 a failed self-check says not to use the report', () => {
    const home = homeResults()
    const broken: Results = {
      ...home,
      options: home.options.map(option => ({
        ...option,
        populations: option.populations.map(population => ({
          ...population,
          failures: { ...population.failures, zScore: 6.2 },
        })),
      })),
    }
    expect(text(render(broken))).toContain('do not use this report')
  })
  test('the same results give the same bytes', () => {
    expect(render(homeResults(), 'owner')).toBe(render(homeResults(), 'owner'))
  })
  test('fifty options still make a report', () => {
    const home = homeResults()
    const options = Array.from({ length: 50 }, (_, index) => {
      const base = home.options[index % 4]
      if (base === undefined) throw new Error('the fixture has four options')
      return {
        ...base,
        id: index < 4 ? base.id : `${'ABC'[Math.floor(index / 26)]}${String.fromCharCode(65 + (index % 26))}`,
        name: `Option number ${index + 1}`,
      }
    })
    expect(render({ ...home, options }).length).toBeLessThan(2_000_000)
  })
  test.each([
    ['home', homeResults()],
    ['quiet', quietResults()],
    ['close', closeResults()],
  ])('%s is valid HTML', async (_, results) => {
    const validator = new HtmlValidate({
      extends: ['html-validate:recommended'],
      // line numbers of the source are not part of a finding
      rules: { 'long-title': 'off', 'no-trailing-whitespace': 'off' },
    })
    const report = await validator.validateString(render(results))
    expect(
      report.results.flatMap(result =>
        result.messages.map(message => `${message.line} ${message.ruleId}: ${message.message}`),
      ),
    ).toEqual([])
  })
})
