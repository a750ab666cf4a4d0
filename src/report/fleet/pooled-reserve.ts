import type { ValueWithError as Simulated } from '../../fleet/fleet-results.ts'
import { lineChart } from '../charts/lines.ts'
import { lineKey } from '../charts/look.ts'
import { type Finding, finding, type Picture, table } from '../content.ts'
import { formatMoney } from '../format/money.ts'
import { formatNumber } from '../format/number.ts'
import { formatLifetimes, formatShare } from '../format/share.ts'
import { AS_ABOVE, each, FAILURES_KNOWN, type FleetView } from './fleet-view.ts'

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
  const { contributionAt: at, twoPartFixedInMoney } = reserve
  const rows = [
    ['half of futures', at['50']],
    ['8 of 10', at['80']],
    ['9 of 10', at['90']],
  ] as const
  return finding({
    id: 'reserve',
    topic: 'What to put aside',
    sentence: setAside(view),
    paragraphs: [
      `${shortOf(view)} ${sureOf(view)}`,
      `Deposits fall at the start of each year, rise with inflation and earn ${formatShare(reserve.interest)} a year beyond it. The bills of a year are taken out at its start, on the careful side. Lost energy is not in it.`,
      'Without a sum at the start the deposit itself must carry the largest early bill, and collects more than is spent: the table says how much it would be.',
      ...laterSentence(view),
    ],
    figures: [cumulativeFigure(view)],
    tables: [
      table(
        `In place of both, one level deposit a year for all sites, ${fleet.currency}, prices of the start date`,
        ['Enough in', '#All sites', '#Each site', '#Give or take'],
        rows.map(([words, figure]) => [
          words,
          view.bare(figure),
          view.bare(each(figure, fleet.played)),
          view.bare(figure.standardError),
        ]),
        [
          'Give or take: the standard error for all sites. In 19 of 20 runs with other luck the figure lies within twice that.',
          ...(reserve.fixedInMoney === null
            ? []
            : [`Fixed in money instead of rising with inflation: ${view.money(reserve.fixedInMoney)} a year.`]),
          ...(twoPartFixedInMoney === null
            ? []
            : [
                `The two parts, fixed in money: ${view.money(twoPartFixedInMoney.ready)} ready at the start, ${view.money(twoPartFixedInMoney.perYear)} a year.`,
              ]),
        ],
      ),
    ],
    margin: [AS_ABOVE, FAILURES_KNOWN],
  })
}

/**
 * What to have ready and what to put aside in one sentence (R2a), the same on every page.
 *
 * @param view - prepared results
 */
export function setAside(view: FleetView): string {
  const { reserve, fleet } = view.results
  const { ready, perYear, confidence } = reserve.twoPart
  const share = (figure: Simulated): string => view.money(each(figure, fleet.played))
  const has = ready.value > 0
  const forWhom =
    fleet.played === 1
      ? 'for the one site'
      : `for all ${view.sites(fleet.played)}, ${has ? `${share(ready)} and ` : ''}${share(perYear)} for each`
  const start = has ? `Have ${view.money(ready)} ready at the start${isThere(view)} and put` : 'Put'
  return `${start} aside ${view.money(perYear)} a year ${forWhom}: in ${formatLifetimes(confidence)} futures that pays every bill.`
}

/** The part of it that the opening balance already is. */
function isThere({ results: { reserve, fleet } }: FleetView): string {
  return reserve.opening > 0 ? ` (${formatMoney(reserve.opening, 0, fleet.currency)} is there)` : ''
}

/**
 * How often the reserve is not enough, and what is lacking then.
 *
 * @param view - prepared results
 */
export function shortOf(view: FleetView): string {
  const { chanceShort, meanShortfall, firstShortYear } = view.results.reserve.twoPart
  if (chanceShort === 0) return 'In no future played did it fall short.'
  const when = firstShortYear === null ? '' : `, half of them by year ${formatNumber(firstShortYear + 1, 1)}`
  return `In ${formatLifetimes(chanceShort)} futures it falls short${when}; those lack ${view.money(meanShortfall)} on average at their worst.`
}

/**
 * How far the two parts themselves would move in another run.
 *
 * @param view - prepared results
 */
export function sureOf(view: FleetView): string {
  const { ready, perYear } = view.results.reserve.twoPart
  const first =
    ready.value > 0 ? `the sum at the start would move by about ${view.money(ready.standardError)} and ` : ''
  return `Played again with other luck, ${first}the deposit ${first === '' ? 'would move ' : ''}by about ${view.money(perYear.standardError)} a year.`
}

/**
 * What sites may buy later (C8), which no reserve includes.
 *
 * @param view - prepared results
 * @returns a sentence; none where nothing may be bought
 */
export function laterSentence(view: FleetView): string[] {
  const { later, fleet } = view.results
  if (later === null) return []
  const names = later.names.map(name => view.name(name)).join(', ')
  const sites = later.sites === fleet.played ? '' : ` by ${view.sites(later.sites)}`
  return [
    `Not counted in that: what may be bought later${sites} (${names}). It costs ${view.money(later.cost.mean)} over ${view.horizon} on average, and stays under ${view.money(later.cost.p90)} in 9 of 10 futures.`,
  ]
}

function cumulativeFigure(view: FleetView): Picture {
  const { cumulativeCash, cash, fleet } = view.results
  return {
    heading: `Bills of all sites so far, thousands of ${fleet.currency}`,
    key: LEVELS.map(level => lineKey(level.look, level.words)),
    svg: lineChart(
      {
        id: 'cumulative',
        title: 'Bills of all sites so far, by year',
        description: `After ${view.horizon} half of all futures stay under ${view.money(cash.p50)}, 19 of 20 under ${view.money(cash.p95)}.`,
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
