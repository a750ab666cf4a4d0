import type { ValueWithError as Simulated } from '../../fleet/fleet-results.ts'
import { lineChart } from '../charts/lines.ts'
import { lineKey, markKey } from '../charts/look.ts'
import { element } from '../charts/svg.ts'
import { type Finding, finding, type Picture, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import { joinWords } from '../names.ts'
import { AS_ABOVE, type FleetView } from './fleet-view.ts'

const MEAN = { colour: 'c0', dash: 'none' } as const
/** Years that are named. */
const NAMED = 3

/**
 * The years that need most, with the percentiles of single years (R3, F7).
 *
 * @param view - prepared results
 */
export function years(view: FleetView): Finding {
  const { cashByYear, dearestYears, failuresByYear, reserve, fleet } = view.results
  const named = dearestYears.slice(0, NAMED)
  const share = named.reduce((sum, year) => sum + year.shareOfAll, 0)
  const [dearest] = dearestYears
  const list = joinWords(
    named
      .map(({ year }) => year + 1)
      .sort((a, b) => a - b)
      .map(String),
  )
  return finding({
    id: 'years',
    topic: 'The years that need most',
    sentence:
      share === 0
        ? 'No year has bills.'
        : `Years ${list} need most: ${formatShare(share)} of all bills of ${view.horizon} fall in them.`,
    paragraphs:
      dearest === undefined || share === 0
        ? []
        : [
            `The dearest, year ${dearest.year + 1}, costs ${view.money(cashOf(view, 'mean', dearest.year))} on average and stays under ${view.money(cashOf(view, 'p90', dearest.year))} in 9 of 10 futures.`,
          ],
    figures: [yearsFigure(view)],
    tables: [
      table(
        `Year by year, all sites, ${fleet.currency}`,
        [
          'Year',
          '#Failures, mean',
          '#9 of 10 under',
          '#Bills, mean',
          '#half under',
          '#9 of 10 under',
          '#19 of 20 under',
          '#To have ready',
        ],
        cashByYear.mean.map((_, year) => [
          `${year + 1}`,
          view.count(at(failuresByYear, 'mean', year), 0.1),
          view.count(at(failuresByYear, 'p90', year)),
          ...(['mean', 'p50', 'p90', 'p95'] as const).map(level => view.bare(cashOf(view, level, year))),
          view.bare(reserve.readyAhead[year] ?? 0),
        ]),
        ['To have ready: all of next year\u2019s mean bills, two thirds of the year after, one third of the third.'],
      ),
    ],
    margin: [AS_ABOVE],
  })
}

/**
 * Bills of all sites in a year.
 *
 * @param view - prepared results
 * @param level - mean or percentile
 * @param year - index, 0 is the first
 * @returns money with its error
 */
export function cashOf(view: FleetView, level: 'mean' | 'p50' | 'p90' | 'p95', year: number): Simulated {
  return at(view.results.cashByYear, level, year)
}

/**
 * A figure of a year with its error.
 *
 * @param rows - by level and year
 * @param level - which row
 * @param year - index, 0 is the first
 */
export function at<Level extends string>(
  rows: Readonly<Record<Level, readonly number[]>> & {
    readonly standardError: Readonly<Record<Level, readonly number[]>>
  },
  level: Level,
  year: number,
): Simulated {
  return { value: rows[level][year] ?? 0, standardError: rows.standardError[level][year] ?? 0 }
}

/**
 * Bills of all sites by year, with the band of 8 in 10 futures.
 *
 * @param view - prepared results
 * @param height - of the picture; less where a page must hold it
 */
export function yearsFigure(view: FleetView, height?: number): Picture {
  const { cashByYear, dearestYears, fleet } = view.results
  const [dearest] = dearestYears
  return {
    heading: `Bills of all sites in each year, thousands of ${fleet.currency}`,
    key: [
      lineKey(MEAN, 'mean'),
      markKey(element('rect', { x: 1, y: 3, width: 30, height: 14, class: 'band c0' }), '8 of 10 futures lie within'),
    ],
    svg: lineChart(
      {
        id: 'by-year',
        title: 'Bills of all sites in each year',
        description: `Highest mean in year ${(dearest?.year ?? 0) + 1}: ${view.money(cashOf(view, 'mean', dearest?.year ?? 0))}.`,
      },
      {
        series: [
          {
            points: cashByYear.mean.map((cash, year) => ({ x: year + 1, y: cash / 1000 })),
            look: MEAN,
            end: { words: 'mean' },
          },
        ],
        bands: [
          {
            points: cashByYear.p10.map((low, year) => ({
              x: year + 1,
              low: low / 1000,
              high: (cashByYear.p90[year] ?? low) / 1000,
            })),
            colour: 'c0',
          },
        ],
        xName: 'Year',
        yName: `Thousands of ${fleet.currency}, prices of the start date`,
        writeX: value => formatNumber(value, 1),
        writeY: value => formatNumber(value, 1),
        yMust: [0, 1],
        ...(height === undefined ? {} : { height }),
      },
    ),
  }
}
