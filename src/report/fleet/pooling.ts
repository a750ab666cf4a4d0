import type { Diversification } from '../../fleet/fleet-results.ts'
import { lineChart } from '../charts/lines.ts'
import { lineKey } from '../charts/look.ts'
import { type Figure, type Finding, finding, type Table, table } from '../content.ts'
import { formatNumber, formatShare } from '../format.ts'
import { type FleetView, FROM_TEMPLATE } from './fleet-view.ts'

const LINES = [
  { key: 'alone', words: 'each alone', look: { colour: 'c6', dash: '1 3' } },
  { key: 'pooled', words: 'pooled', look: { colour: 'c1', dash: 'none' } },
  {
    key: 'withoutCommonCause',
    words: 'pooled, if nothing struck two at once',
    look: { colour: 'c0', dash: '8 4' },
  },
] as const

/**
 * What pooling saves, and what common cause takes back (F7).
 *
 * @param view - prepared results
 */
export function pooling(view: FleetView): Finding {
  const rows = view.results.diversification
  const { spread, fleet } = view.results
  const shared =
    spread.commonCauseShare === null
      ? []
      : [
          `The bills of all sites to year ${view.horizonYears} spread by ${view.money(spread.pooled)} (standard deviation); if no cause struck two sites at once it would be ${view.money(spread.ifSitesWereIndependent)}. Of the variance, ${formatShare(spread.commonCauseShare)} is common cause.`,
        ]
  return finding({
    id: 'pooling',
    topic: 'What pooling saves',
    sentence: sentence(view, rows.at(-1)),
    paragraphs: [
      'Each home for itself must be ready for its own bad luck. Together, bad luck evens out; a weak model or a maker that is gone does not, since it strikes many roofs at once.',
      ...shared,
    ],
    figures: rows.length > 1 ? [contributionFigure(view, rows)] : [],
    tables: [
      comparison(view, 'Level contribution a year for each site', rows, row => row.contribution),
      comparison(
        view,
        `Bills to year ${view.horizonYears} that 9 of 10 futures stay under, for each site`,
        rows,
        row => row.cash90,
      ),
    ],
    margin: [
      FROM_TEMPLATE,
      {
        known: 'Judgement',
        text: `Ten and a hundred are sites picked at random of ${view.sites(fleet.played)}. "If nothing struck two at once" pairs the same lifetimes of the sites anew, each in an order of its own.`,
      },
    ],
  })
}

function sentence(view: FleetView, all: Diversification | undefined): string {
  if (all === undefined || all.sites === 1) return 'There is one site only, so there is nothing to pool.'
  const { alone, pooled, withoutCommonCause } = all.contribution
  const head = `Pooled, a site needs ${view.money(pooled)} a year instead of ${view.money(alone)} alone`
  return pooled < alone
    ? `${head}, ${formatShare(1 - pooled / alone)} less; if nothing struck two sites at once it would be ${view.money(withoutCommonCause)}.`
    : `${head}: a bill is so rare that alone most sites would put aside nothing and be caught out, while the pool must pay for all.`
}

function comparison(
  view: FleetView,
  caption: string,
  rows: readonly Diversification[],
  of: (row: Diversification) => Diversification['contribution'],
): Table {
  return table(
    `${caption}, ${view.results.fleet.currency}`,
    ['Sites together', '#Each alone', '#Pooled', '#Pooled, if nothing struck two at once'],
    rows.map(row => {
      const { alone, pooled, withoutCommonCause } = of(row)
      const size = formatNumber(row.sites, 1)
      const groups = row.groups > 1 && row.sites > 1 ? `${size} (mean of ${row.groups} groups)` : size
      return [groups, view.bare(alone), view.bare(pooled), view.bare(withoutCommonCause)]
    }),
  )
}

function contributionFigure(view: FleetView, rows: readonly Diversification[]): Figure {
  return {
    heading: `Level contribution a year for each site, ${view.results.fleet.currency}`,
    key: LINES.map(line => lineKey(line.look, line.words)),
    svg: lineChart(
      {
        id: 'pooling',
        title: 'Contribution a site by how many are pooled',
        description: rows
          .map(row => {
            const { pooled, alone } = row.contribution
            return `${view.sites(row.sites)}: ${view.money(pooled)} pooled, ${view.money(alone)} alone`
          })
          .join('. '),
      },
      {
        series: LINES.map(line => ({
          points: rows.map((row, x) => ({ x, y: row.contribution[line.key] })),
          look: line.look,
          end: { words: '' },
        })),
        xName: 'Sites together',
        yName: `${view.results.fleet.currency} a year for each site`,
        writeX: x => {
          const row = Number.isInteger(x) ? rows[x] : undefined
          return row === undefined ? '' : formatNumber(row.sites, 1)
        },
        writeY: value => formatNumber(value, 1),
        yMust: [0, 1],
        height: 170,
      },
    ),
  }
}
