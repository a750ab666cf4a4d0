import { sumOf } from '../../../numerics/sum.ts'
import { lineChart } from '../../charts/lines.ts'
import { optionKey, optionLook } from '../../charts/look.ts'
import { type Finding, finding, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { howKnown } from '../margin.ts'
import { notInReserve } from '../put-aside.ts'
import type { View } from '../view.ts'
import { charted, chartedRemark } from './charted.ts'

/**
 * The bills: the largest a careful buyer should be able to pay, and how they add up (R1, R3).
 *
 * @param view - prepared results
 * @returns the finding
 */
export function worstBill(view: View): Finding {
  const { best, horizonYears } = view
  const options = view.results.options
  const drawn = charted(view)
  const late = horizonYears > 10
  const { p90: bill, standardErrors } = best.largestYear
  const { currency } = view.results.scenario
  return finding({
    id: 'worst-bill',
    topic: 'How large a bill can get',
    sentence:
      bill > 0
        ? `With ${view.name(best)}, be able to pay ${view.money(bill, standardErrors.p90)} in one year: in 9 of 10 lifetimes no year costs more.`
        : `With ${view.name(best)}, 9 of 10 lifetimes bring no bill at all.`,
    paragraphs: [
      `These are bills out of your own pocket: parts, labour, call-outs, roof access and yearly costs, in prices of the start date, after what cover pays. Energy lost is not in them. In half of all lifetimes the largest year stays under ${view.money(best.largestYear.p50, best.largestYear.standardErrors.p50)}.`,
      ...notInReserve(view),
    ],
    figures: [
      {
        heading: `Bills of each year, mean over all lifetimes, ${currency}`,
        key: optionKey(
          drawn.map(option => ({ letter: option.id, name: view.name(option), place: view.place(option) })),
        ),
        svg: lineChart(
          {
            id: 'cash',
            title: 'Mean cash paid in each year, by option',
            description: drawn
              .map(
                option => `${view.name(option)}: ${view.money(mean(option.cashByYear.mean), null)} a year on average`,
              )
              .join('; '),
          },
          {
            series: drawn.map(option => ({
              look: optionLook(view.place(option)),
              end: { letter: option.id, place: view.place(option) },
              points: option.cashByYear.mean.map((cash, year) => ({ x: year + 0.5, y: cash })),
            })),
            xName: 'Years after the start',
            yName: `${currency} a year`,
            writeX: value => formatNumber(value, 1, view.locale),
            writeY: value => formatNumber(value, 1, view.locale),
            yMust: [0, 1],
          },
        ),
      },
    ],
    tables: [
      table(
        `Largest bills, ${currency}, prices of the start date`,
        [
          'Option',
          ...(late ? [`#Largest bill of a year, years 10 to ${Math.min(15, horizonYears)}: 9 of 10 stay under`] : []),
          '#Largest year of all: half stay under',
          '#Largest year of all: 9 of 10 stay under',
          '#Mean a year',
        ],
        options.map(option => [
          view.name(option),
          ...(late ? [bare(view, option.billYears10To15.p90, option.billYears10To15.standardErrors.p90)] : []),
          bare(view, option.largestYear.p50, option.largestYear.standardErrors.p50),
          bare(view, option.largestYear.p90, option.largestYear.standardErrors.p90),
          bare(view, mean(option.cashByYear.mean), null),
        ]),
        chartedRemark(view),
      ),
    ],
    margin: howKnown(view, ['prices', 'failures', 'cover']),
  })
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : sumOf(values) / values.length
}

function bare(view: View, value: number, standardError: number | null): string {
  return view.money(value, standardError).replace(/^\S+\s/u, '')
}
