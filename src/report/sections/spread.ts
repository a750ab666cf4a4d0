import type { OptionResult } from '../../analysis/results.ts'
import { markKey } from '../charts/look.ts'
import { spindleChart } from '../charts/spindles.ts'
import { element } from '../charts/svg.ts'
import { type Finding, finding, table } from '../content.ts'
import { formatNumber, formatShare } from '../format.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'

/**
 * How far single lifetimes lie apart: the mean is what a thousand roofs share, one roof gets one lifetime.
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
    sentence: `With ${view.name(best)}, in 9 of 10 lifetimes the whole cost stays under ${view.money(best.lifetimeCost.p90, error(best))}.`,
    paragraphs: [
      `Half of all lifetimes cost less than ${view.money(best.lifetimeCost.p50, error(best))}; the dearest tenth cost ${view.money(best.lifetimeCost.worstTenthMean, error(best))} on average. ${variance(view, best)}`.trim(),
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
              .map(
                option =>
                  `${view.name(option)}: 9 of 10 lifetimes from ${view.moneyRange(option.lifetimeCost.p5, option.lifetimeCost.p95, error(option))}`,
              )
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
          ...[
            option.lifetimeCost.p5,
            option.lifetimeCost.p10,
            option.lifetimeCost.p50,
            option.lifetimeCost.p90,
            option.lifetimeCost.p95,
            option.lifetimeCost.worstTenthMean,
          ].map(value => bare(view.money(value, error(option)))),
        ]),
      ),
    ],
    margin: howKnown(view, ['failures', 'prices']),
  })
}

/** Quantiles are less sharp than means: about twice their standard error at the 5 % and 95 % points of a near-normal spread. */
function error(option: OptionResult): number {
  return 2 * option.lifetimeCost.standardError
}

function variance(view: View, option: OptionResult): string {
  const { chanceShare, unknownShare } = option.variance
  if (chanceShare === null || unknownShare === null) return ''
  return `Of this spread ${formatShare(chanceShare, view.locale)} is luck, when and whether things fail, and ${formatShare(unknownShare, view.locale)} is what nobody knows yet, what kind of product and price this is.`
}
