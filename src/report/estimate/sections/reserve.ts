import type { OptionResult } from '../../../analysis/results/option.ts'
import { lineChart } from '../../charts/lines.ts'
import { lineKey, markKey, optionLook } from '../../charts/look.ts'
import { element } from '../../charts/svg.ts'
import { type Finding, finding, type Picture, type Table, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatLifetimes, formatShare } from '../../format/share.ts'
import { howKnown } from '../margin.ts'
import { asideSentence, notInReserve } from '../put-aside.ts'
import type { View } from '../view.ts'
import { chartedRemark, MOST_PANELS, panelled } from './charted.ts'

/**
 * What to put aside each year, and the balance over the years (R1–R3).
 *
 * @param view - prepared results
 * @returns the finding
 */
export function reserve(view: View): Finding {
  const { best } = view
  const plan = best.reserve
  return finding({
    id: 'reserve',
    topic: 'What to put aside',
    sentence: asideSentence(view, best),
    paragraphs: [
      `With nothing ready at the start it would take ${view.money(plan.contributionPerYear, null)} a year: a level deposit alone must carry the largest early bill, and so collects more than is spent. ${short(view, best)}`,
      ...funded(view, best),
      'The deposit falls at the start of each year and rises with inflation. The bills of a year are taken out at its start, on the careful side. Lost energy and the price paid at the start are not in it.',
      ...notInReserve(view),
    ],
    figures: panelled(view).map(option => balanceFigure(view, option)),
    tables: [contributionTable(view), ...fixedTable(view)],
    margin: howKnown(view, ['prices', 'failures', 'money']),
  })
}

function short(view: View, option: OptionResult): string {
  const { chanceShort, meanShortfall, firstShortYear } = option.reserve
  if (chanceShort === 0) return 'In no lifetime played did it fall short.'
  const when =
    firstShortYear === null ? '' : `, half of them by year ${formatNumber(firstShortYear + 1, 1, view.locale)}`
  return `In ${formatLifetimes(chanceShort)} lifetimes it falls short${when}; those that do lack ${view.money(meanShortfall, null)} on average at their worst.`
}

/** R3: of equipment that is in use already, what should be there for the life used up; new equipment has used none. */
function funded(view: View, option: OptionResult): string[] {
  const { fullyFundedBalance, percentFunded } = option.reserve
  if (percentFunded === null) return []
  return [
    `For the life already used up, ${view.money(fullyFundedBalance, null)} should be in the reserve today; ${formatShare(percentFunded / 100, view.locale)} of it is.`,
  ]
}

function balanceFigure(view: View, option: OptionResult): Picture {
  const { colour } = optionLook(view.place(option))
  const { currency } = view.results.scenario
  const { p10, p50, p90 } = option.balanceByYear
  const middle = { colour, dash: 'none' }
  return {
    heading: `Balance of the reserve: ${view.name(option)}, ${currency}`,
    key: [
      lineKey(middle, 'half of all lifetimes above, half below'),
      markKey(
        element('rect', { x: 1, y: 3, width: 30, height: 14, class: `band ${colour}` }),
        '8 of 10 lifetimes lie within',
      ),
    ],
    svg: lineChart(
      {
        id: `balance-${option.id}`,
        title: `Balance of the reserve by year, ${view.name(option)}`,
        description: `With ${view.money(option.reserve.contributionPerYear, null)} a year. After ${view.horizon} the middle balance is ${view.money(p50.at(-1) ?? 0, null)}, 8 of 10 from ${view.moneyRange(p10.at(-1) ?? 0, p90.at(-1) ?? 0, null)}.`,
      },
      {
        series: [
          {
            points: p50.map((balance, year) => ({ x: year + 1, y: balance })),
            look: middle,
            end: { letter: option.id, place: view.place(option) },
          },
        ],
        bands: [{ points: p10.map((low, year) => ({ x: year + 1, low, high: p90[year] ?? low })), colour }],
        xName: 'Years after the start',
        yName: `${currency}, after ${view.money(option.reserve.contributionPerYear, null).replace(/^\S+\s/u, '')} a year`,
        writeX: value => formatNumber(value, 1, view.locale),
        writeY: value => formatNumber(value, 1, view.locale),
        yMust: [0, 1],
        height: 130,
      },
    ),
  }
}

/** Heads of the tables of what to put aside. */
const SUMS_TO_PUT_ASIDE = [
  'Option',
  '#Enough in half of lifetimes',
  '#in 8 of 10',
  '#in 9 of 10',
  '#Have ready',
  '#and put aside, a year',
  '#Level alone, a year',
]

function contributionTable(view: View): Table {
  const used = view.results.options.some(({ reserve: { percentFunded } }) => percentFunded !== null)
  return table(
    `What to put aside each year, ${view.results.scenario.currency}, prices of the start date`,
    [...SUMS_TO_PUT_ASIDE, '#Falls short', ...(used ? ['#Should be there today'] : [])],
    view.results.options.map(option => [
      view.name(option),
      ...(['50', '80', '90'] as const).map(level => view.money(option.reserve.contributionAt[level], null)),
      view.money(option.reserve.twoPart.ready, null),
      view.money(option.reserve.twoPart.perYear, null),
      view.money(option.reserve.contributionPerYear, null),
      formatShare(option.reserve.chanceShort, view.locale),
      ...(used ? [view.money(option.reserve.fullyFundedBalance, null)] : []),
    ]),
    chartedRemark(view, MOST_PANELS),
  )
}

function fixedTable(view: View): Table[] {
  const fixed = view.results.options.flatMap(option =>
    option.reserve.fixedInMoney === null ? [] : [{ option, plan: option.reserve.fixedInMoney }],
  )
  if (fixed.length === 0) return []
  return [
    table(
      `The same as a fixed amount that does not rise with inflation, ${view.results.scenario.currency}`,
      SUMS_TO_PUT_ASIDE,
      fixed.map(({ option, plan }) => [
        view.name(option),
        ...[plan['50'], plan['80'], plan['90'], plan.twoPart.ready, plan.twoPart.perYear, plan.contributionPerYear].map(
          value => view.money(value, null),
        ),
      ]),
    ),
  ]
}
