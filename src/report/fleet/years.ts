import { lineChart } from '../charts/lines.ts'
import { lineKey, markKey } from '../charts/look.ts'
import { element } from '../charts/svg.ts'
import { type Figure, type Finding, finding, table } from '../content.ts'
import { formatNumber, formatShare } from '../format.ts'
import { joinWords } from '../names.ts'
import { type FleetView, FROM_TEMPLATE } from './fleet-view.ts'

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
        : `Years ${list} need most: ${formatShare(share)} of all bills of ${view.horizonYears} years fall in them.`,
    paragraphs:
      dearest === undefined || share === 0
        ? []
        : [
            `The dearest, year ${dearest.year + 1}, takes ${view.money(dearest.mean)} on average and stays under ${view.money(dearest.p90)} in 9 of 10 futures.`,
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
        cashByYear.mean.map((mean, year) => [
          `${year + 1}`,
          view.count(failuresByYear.mean[year] ?? 0),
          view.count(failuresByYear.p90[year] ?? 0),
          view.bare(mean),
          view.bare(cashByYear.p50[year] ?? 0),
          view.bare(cashByYear.p90[year] ?? 0),
          view.bare(cashByYear.p95[year] ?? 0),
          view.bare(reserve.readyAhead[year] ?? 0),
        ]),
        ['To have ready: all of next year\u2019s mean bills, two thirds of the year after, one third of the third.'],
      ),
    ],
    margin: [FROM_TEMPLATE],
  })
}

function yearsFigure(view: FleetView): Figure {
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
        description: `Highest mean in year ${(dearest?.year ?? 0) + 1}: ${view.money(dearest?.mean ?? 0)}.`,
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
      },
    ),
  }
}
