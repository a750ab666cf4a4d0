import type { Diversification, ValueWithError as Simulated } from '../../fleet/fleet-results.ts'
import { lineChart } from '../charts/lines.ts'
import { lineKey } from '../charts/look.ts'
import { type Finding, finding, type Picture, type Table, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { formatLifetimes, formatShare } from '../format/share.ts'
import { AS_ABOVE, type FleetView } from './fleet-view.ts'

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
 * What pooling saves, and how much common cause reduces the saving (F7).
 *
 * @param view - prepared results
 */
export function pooling(view: FleetView): Finding {
  const rows = view.results.diversification
  const { spread, fleet, reserve } = view.results
  const shared =
    spread.commonCauseShare === null
      ? []
      : [
          `The bills of all sites to year ${view.horizonYears} lie about ${view.money(spread.pooled)} above or below their mean (standard deviation); if nothing struck two sites at once it would be ${view.money(spread.ifSitesWereIndependent)}. So ${formatShare(spread.commonCauseShare)} of their variance is common cause.`,
        ]
  return finding({
    id: 'pooling',
    topic: 'What pooling saves',
    sentence: sentence(view, rows.at(-1)),
    paragraphs: [
      'Each site for itself must be ready for its own bad luck. Together, bad luck evens out. What strikes many roofs at once does not: a weak model, a maker that is gone, repairs that turn out dearer than thought. That is common cause.',
      ...shared,
    ],
    figures: rows.length > 1 ? [contributionFigure(view, rows)] : [],
    tables: [
      comparison(
        view,
        `Level deposit a year for each site, nothing ready at the start, to be sure in ${formatLifetimes(reserve.confidence)} futures`,
        rows,
        'contribution',
      ),
      comparison(
        view,
        `Bills to year ${view.horizonYears} that 9 of 10 futures stay under, for each site`,
        rows,
        'cash90',
      ),
    ],
    margin: [
      AS_ABOVE,
      {
        known: 'Judgement',
        text: `Ten and a hundred are picked at random of ${view.sites(fleet.played)}; other picks give slightly different figures. "If nothing struck two at once" combines the same lifetimes in a random order for each site.`,
      },
    ],
  })
}

/**
 * How much of the uncertainty strikes many sites at once, in a sentence.
 *
 * @param view - prepared results
 * @returns '' where nothing varies
 */
export function commonCause({ results }: FleetView): string {
  const share = results.spread.commonCauseShare
  return share === null
    ? ''
    : `Of what makes the total uncertain, ${formatShare(share)} strikes many sites at once: a weak model, a maker that is gone, repairs dearer than thought. More sites do not even that out.`
}

/**
 * What a site needs pooled, against alone.
 *
 * @param view - prepared results
 * @param all - all sites together
 */
function sentence(view: FleetView, all: Diversification | undefined): string {
  if (all === undefined || all.sites === 1) return 'There is one site only, so there is nothing to pool.'
  const { alone, pooled } = all.contribution
  const { pooled: together, withoutCommonCause } = figuresOf(all, 'contribution')
  const head = `With a level deposit a site in the pool needs ${view.money(together)} a year instead of ${view.money(alone)} alone`
  return pooled < alone
    ? `${head}, ${formatShare(1 - pooled / alone)} less; if nothing struck two sites at once it would be ${view.money(withoutCommonCause)}.`
    : `${head}: bills are so rare that most sites alone would put nothing aside and could not pay one, while the pool must pay all.`
}

/** The pooled figures of a row with their errors; one site alone has none. */
function figuresOf(
  row: Diversification,
  which: 'contribution' | 'cash90',
): Record<'pooled' | 'withoutCommonCause', number | Simulated> {
  const { pooled, withoutCommonCause } = row[which]
  const errors = row.standardError?.[which]
  if (errors === undefined) return { pooled, withoutCommonCause }
  return {
    pooled: { value: pooled, standardError: errors.pooled },
    withoutCommonCause: { value: withoutCommonCause, standardError: errors.withoutCommonCause },
  }
}

function comparison(
  view: FleetView,
  caption: string,
  rows: readonly Diversification[],
  which: 'contribution' | 'cash90',
): Table {
  return table(
    `${caption}, ${view.results.fleet.currency}`,
    ['Sites together', '#Each alone', '#Pooled', '#Pooled, if nothing struck two at once'],
    rows.map(row => {
      const { pooled, withoutCommonCause } = figuresOf(row, which)
      const size = formatNumber(row.sites, 1)
      const groups = row.groups > 1 && row.sites > 1 ? `${size} (mean of ${row.groups} groups)` : size
      return [groups, view.bare(row[which].alone), view.bare(pooled), view.bare(withoutCommonCause)]
    }),
  )
}

function contributionFigure(view: FleetView, rows: readonly Diversification[]): Picture {
  return {
    heading: `Level deposit a year for each site, ${view.results.fleet.currency}`,
    key: LINES.map(line => lineKey(line.look, line.words)),
    svg: lineChart(
      {
        id: 'pooling',
        title: 'Level deposit for each site, by how many are pooled',
        description: rows
          .map(row => {
            const { pooled } = figuresOf(row, 'contribution')
            return `${view.sites(row.sites)}: ${view.money(pooled)} pooled, ${view.money(row.contribution.alone)} alone`
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
