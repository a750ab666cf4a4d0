import type { OptionResult } from '../../../analysis/results/option.ts'
import { markKey } from '../../charts/look.ts'
import { spindleChart } from '../../charts/spindles.ts'
import { element } from '../../charts/svg.ts'
import { type Finding, finding, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatShare } from '../../format/share.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'

/**
 * How far single lifetimes lie apart: the mean is that of many roofs, while one roof has one lifetime.
 *
 * @param view - prepared results
 * @returns the finding
 */
export function spread(view: View): Finding {
  const options = view.results.options
  const { best } = view
  const { currency } = view.results.scenario
  const bare = (text: string): string => text.replace(/^\S+\s/u, '')
  return finding({
    id: 'spread',
    topic: 'How far lifetimes lie apart',
    sentence: `With ${view.name(best)}, in 9 of 10 lifetimes the whole cost stays under ${at(view, best, 'p90')}.`,
    paragraphs: [
      `Half of all lifetimes cost less than ${at(view, best, 'p50')}; the dearest tenth cost ${at(view, best, 'worstTenthMean')} on average. ${variance(view, best)}`.trim(),
    ],
    figures: [
      {
        heading: `Where lifetimes end, ${currency}`,
        key: [
          markKey(
            element('path', { d: 'M1 9L8 5L16 1L24 5L31 9V11L24 15L16 19L8 15L1 11Z', class: 'leaf cn' }),
            '9 of 10 lifetimes lie within; thick where most of them do',
          ),
          markKey(element('path', { d: 'M16 1V19', class: 'mark' }), 'half above, half below'),
          markKey(element('circle', { cx: 16, cy: 10, r: 4, class: 'dot' }), 'mean'),
          markKey(element('circle', { cx: 16, cy: 10, r: 4.5, class: 'ring' }), 'mean of the dearest tenth'),
        ],
        svg: spindleChart(
          {
            id: 'spread',
            title: 'Spread of lifetime cost of each option',
            description: options
              .map(option => `${view.name(option)}: 9 of 10 lifetimes from ${range(view, option)}`)
              .join('; '),
          },
          options.map(option => ({ letter: option.id, place: view.place(option), ...option.lifetimeCost })),
          `${currency}, present value over ${view.horizon}`,
          value => formatNumber(value, 1, view.locale),
        ),
      },
    ],
    tables: [
      table(
        `Lifetime cost that so many lifetimes stay under, ${currency}, present value`,
        ['Option', '#Mean', '#1 of 20', '#1 of 10', '#Half', '#9 of 10', '#19 of 20', '#Mean of the dearest tenth'],
        options.map(option => [
          view.name(option),
          bare(view.money(option.lifetimeCost.mean, option.lifetimeCost.standardError)),
          ...COLUMNS.map(name => bare(at(view, option, name))),
        ]),
      ),
    ],
    margin: howKnown(view, ['failures', 'prices']),
  })
}

const COLUMNS = ['p5', 'p10', 'p50', 'p90', 'p95', 'worstTenthMean'] as const

/** A percentile of lifetime cost, rounded by its own error (X2). */
function at(view: View, { lifetimeCost }: OptionResult, name: (typeof COLUMNS)[number]): string {
  return view.money(lifetimeCost[name], lifetimeCost.standardErrors[name])
}

function range(view: View, { lifetimeCost: { p5, p95, standardErrors } }: OptionResult): string {
  return view.moneyRange(p5, p95, Math.max(standardErrors.p5, standardErrors.p95))
}

function variance(view: View, option: OptionResult): string {
  const { chanceShare, unknownShare } = option.variance
  if (chanceShare === null || unknownShare === null) return ''
  return `Of this spread ${formatShare(chanceShare, view.locale)} is luck, when and whether things fail, and ${formatShare(unknownShare, view.locale)} is what nobody knows yet, what kind of product and price this is.`
}
