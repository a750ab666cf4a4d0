import type { OptionResult } from '../../../analysis/results/option.ts'
import { lineChart } from '../../charts/lines.ts'
import { lineKey, optionLook } from '../../charts/look.ts'
import { type Finding, finding, type Picture, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'
import { chartedRemark, MOST_PANELS, panelled, tableYears } from './charted.ts'

const LEVELS = [
  { key: 'p50', words: 'half stay under', short: 'half', dash: 'none' },
  { key: 'p80', words: '8 of 10 stay under', short: '8 of 10', dash: '8 4' },
  { key: 'p90', words: '9 of 10 stay under', short: '9 of 10', dash: '4 3' },
  { key: 'p95', words: '19 of 20 stay under', short: '19 of 20', dash: '1 3' },
] as const

/**
 * Bills added up year by year (R3). Percentiles of single years are left out: for one home they are mostly 0.
 *
 * @param view - prepared results
 * @returns the finding
 */
export function yearByYear(view: View): Finding {
  const { best, horizonYears } = view
  const last = horizonYears - 1
  const options = panelled(view)
  return finding({
    id: 'year-by-year',
    topic: 'Bills year by year',
    sentence: `Over ${view.horizon} the bills for ${view.name(best)} add up to less than ${view.money(best.cumulativeCash.p50[last] ?? 0, null)} in half of all lifetimes, and to less than ${view.money(best.cumulativeCash.p90[last] ?? 0, null)} in 9 of 10.`,
    paragraphs: [
      'Undiscounted, in prices of the start date. Money to have ready looks three years ahead: all of next year\u2019s mean bills, two thirds of the year after, one third of the third.',
    ],
    figures: options.map(option => cumulativeFigure(view, option)),
    tables: options.map(option =>
      table(
        `Year by year: ${view.name(option)}, ${view.results.scenario.currency}, prices of the start date`,
        [
          'Year',
          '#Failures',
          '#Bills, mean',
          ...LEVELS.map(level => `#Bills so far: ${level.words}`),
          '#To have ready',
        ],
        (option === best ? firstTen(horizonYears) : tableYears(horizonYears)).map(year => [
          `${year}`,
          formatNumber(option.failuresByYear[year - 1] ?? 0, 0.01, view.locale),
          bare(view, option.cashByYear.mean[year - 1] ?? 0),
          ...LEVELS.map(level => bare(view, option.cumulativeCash[level.key][year - 1] ?? 0)),
          bare(view, option.reserve.readyAhead[year - 1] ?? 0),
        ]),
        chartedRemark(view, MOST_PANELS, 'every option in yearly.csv'),
      ),
    ),
    margin: howKnown(view, ['prices', 'failures']),
  })
}

/** Every year of the first ten, then every fifth: yearly.csv has all. */
function firstTen(horizonYears: number): number[] {
  return Array.from({ length: horizonYears }, (_, year) => year + 1).filter(
    year => year <= 10 || year % 5 === 0 || year === horizonYears,
  )
}

function bare(view: View, value: number): string {
  return view.money(value, null).replace(/^\S+\s/u, '')
}

function cumulativeFigure(view: View, option: OptionResult): Picture {
  const { colour } = optionLook(view.place(option))
  const { currency } = view.results.scenario
  return {
    heading: `Bills added up: ${view.name(option)}, ${currency}`,
    key: LEVELS.map(level => lineKey({ colour, dash: level.dash }, level.words)),
    svg: lineChart(
      {
        id: `bills-${option.id}`,
        title: `Bills added up by year, ${view.name(option)}`,
        description: LEVELS.map(
          level => `${level.words} ${view.money(option.cumulativeCash[level.key].at(-1) ?? 0, null)}`,
        ).join('; '),
      },
      {
        series: LEVELS.map(level => ({
          points: option.cumulativeCash[level.key].map((cash, year) => ({ x: year + 1, y: cash })),
          look: { colour, dash: level.dash },
          end: { words: level.short },
        })),
        xName: 'Years after the start',
        yName: `${currency}, prices of the start date`,
        writeX: value => formatNumber(value, 1, view.locale),
        writeY: value => formatNumber(value, 1, view.locale),
        yMust: [0, 1],
        height: 150,
      },
    ),
  }
}
