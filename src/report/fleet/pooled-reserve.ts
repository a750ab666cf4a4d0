import { lineChart } from '../charts/lines.ts'
import { lineKey } from '../charts/look.ts'
import { type Figure, type Finding, finding, table } from '../content.ts'
import { formatLifetimes, formatNumber, formatShare } from '../format.ts'
import { FAILURES_KNOWN, type FleetView, FROM_TEMPLATE } from './fleet-view.ts'

const LEVELS = [
  { key: 'p50', words: 'half stay under', end: 'half', look: { colour: 'c0', dash: 'none' } },
  { key: 'p80', words: '8 of 10 stay under', end: '8 of 10', look: { colour: 'c2', dash: '8 4' } },
  { key: 'p90', words: '9 of 10 stay under', end: '9 of 10', look: { colour: 'c1', dash: '4 3' } },
  { key: 'p95', words: '19 of 20 stay under', end: '19 of 20', look: { colour: 'c6', dash: '1 3' } },
] as const

/**
 * What to put aside for all sites together (R2, R3, F7).
 *
 * @param view - prepared results
 */
export function pooledReserve(view: FleetView): Finding {
  const { reserve, fleet } = view.results
  const { contributionAt: at } = reserve
  const opening = reserve.opening > 0 ? `; ${view.money(reserve.opening)} is there at the start` : ''
  const rows = [
    ['half of futures', at['50']],
    ['8 of 10', at['80']],
    ['9 of 10', at['90']],
  ] as const
  return finding({
    id: 'reserve',
    topic: 'What to put aside',
    sentence: `Put aside ${view.money(reserve.contributionPerYear)} a year for all ${view.sites(fleet.played)}, ${view.money(reserve.contributionPerSite)} for each: in ${formatLifetimes(reserve.confidence)} futures that pays every bill.`,
    paragraphs: [
      short(view),
      `Deposits fall at the start of each year, rise with inflation and earn ${formatShare(reserve.interest)} a year beyond it${opening}. The bills of a year are taken out at its start, on the careful side. Lost energy is not in it.`,
    ],
    figures: [cumulativeFigure(view)],
    tables: [
      table(
        `What to put aside each year for all sites, ${fleet.currency}, prices of the start date`,
        ['Enough in', '#All sites', '#Each site', '#Standard error, all sites'],
        rows.map(([words, figure]) => [
          words,
          view.bare(figure),
          view.bare(figure.value / Math.max(fleet.played, 1)),
          view.bare(figure.standardError),
        ]),
        reserve.fixedInMoney === null
          ? []
          : [`Fixed in money instead of rising with inflation: ${view.money(reserve.fixedInMoney)} a year.`],
      ),
    ],
    margin: [FROM_TEMPLATE, FAILURES_KNOWN],
  })
}

function short(view: FleetView): string {
  const { chanceShort, meanShortfall, firstShortYear } = view.results.reserve
  if (chanceShort === 0) return 'In no future played did it fall short.'
  const when = firstShortYear === null ? '' : `, half of them by year ${formatNumber(firstShortYear + 1, 1)}`
  return `In ${formatLifetimes(chanceShort)} futures it falls short${when}; those that do lack ${view.money(meanShortfall)} on average at their worst.`
}

function cumulativeFigure(view: FleetView): Figure {
  const { cumulativeCash, fleet } = view.results
  return {
    heading: `Bills of all sites so far, thousands of ${fleet.currency}`,
    key: LEVELS.map(level => lineKey(level.look, level.words)),
    svg: lineChart(
      {
        id: 'cumulative',
        title: 'Bills of all sites so far, by year',
        description: `After ${view.horizonYears} years half of all futures stay under ${view.money(cumulativeCash.p50.at(-1) ?? 0)}, 19 of 20 under ${view.money(cumulativeCash.p95.at(-1) ?? 0)}.`,
      },
      {
        series: LEVELS.map(level => ({
          points: cumulativeCash[level.key].map((cash, year) => ({ x: year + 1, y: cash / 1000 })),
          look: level.look,
          end: { words: level.end },
        })),
        xName: 'Years after the start',
        yName: `Thousands of ${fleet.currency}, prices of the start date`,
        writeX: value => formatNumber(value, 1),
        writeY: value => formatNumber(value, 1),
        yMust: [0, 1],
      },
    ),
  }
}
