import type { Comparison } from '../../../analysis/results/comparison.ts'
import { intervalChart } from '../../charts/intervals.ts'
import { markKey } from '../../charts/look.ts'
import { element, rule } from '../../charts/svg.ts'
import { type Finding, finding, type Picture, type Table, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatChance, formatShare } from '../../format/share.ts'
import { howKnown } from '../margin.ts'
import {
  batterySentence,
  breakEvenSentence,
  premiumOf,
  sameReliabilitySentence,
  surenessSentence,
  verdictSentence,
  verdictWords,
} from '../verdicts.ts'
import type { View } from '../view.ts'

/**
 * Whether the dearer of two options earns its extra price (K2, K3), with the same-reliability case next to it.
 *
 * @param view - prepared results
 * @returns the finding; null with one option
 */
export function worthIt(view: View): Finding | null {
  const main = mainPair(view)
  if (main === null) return null
  const ahead =
    main.aheadFromYear === null
      ? 'On average it is never ahead for good within these years.'
      : `Its extra price is won back for good from year ${main.aheadFromYear} on.`
  const same = sameReliabilitySentence(view, [main])
  const shown = shownPairs(view)
  const others = shown.filter(pair => pair !== main)
  return finding({
    id: 'worth-it',
    topic: 'Whether the dearer one earns its price',
    sentence: verdictSentence(view, main),
    paragraphs: [
      `${breakEvenSentence(view, main)} ${ahead}`,
      `${surenessSentence(view, main)} ${varianceSentence(main)}`.trim(),
      ...shown.map(pair => batterySentence(view, pair)).filter(sentence => sentence !== null),
      same ?? 'No difference in reliability between tiers was played for this pair: each has its own failure figures.',
    ],
    lists:
      others.length === 0
        ? []
        : [{ lead: 'The other pairs:', points: others.map(pair => verdictSentence(view, pair)) }],
    figures: [pairFigure(view, 'pairs', shown)],
    tables: [pairTable(view, shown)],
    margin: [
      ...howKnown(view, ['failures', 'cover']),
      ...(shown.some(pair => pair.withTierEffect0 !== null)
        ? [
            {
              known: 'Judgement',
              text: 'That a robust inverter fails less than a plain one. No independent field data show it; the ring in the picture is the case without it.',
            },
          ]
        : []),
    ],
  })
}

// Ours: more pairs than these fill a page and decide nothing; comparisons.csv has all.
const MOST_PAIRS = 10

/** The pairs that matter: with the best or the cheapest to buy in them. */
function shownPairs(view: View): readonly Comparison[] {
  const cheapest = view.ranked.reduce((low, option) => (option.costs.upfront < low.costs.upfront ? option : low))
  const wanted = new Set([view.best.id, cheapest.id])
  return view.results.comparisons
    .filter(pair => wanted.has(pair.option) || wanted.has(pair.against))
    .slice(0, MOST_PAIRS)
}

/** The pair that decides: the best against the cheapest to buy, else against the second. */
function mainPair(view: View): Comparison | null {
  const cheapest = view.ranked.reduce((low, option) => (option.costs.upfront < low.costs.upfront ? option : low))
  if (cheapest.id !== view.best.id) return view.comparison(view.best, cheapest)
  return view.second === null ? null : view.comparison(view.best, view.second)
}

/**
 * The picture of some comparisons: mean difference, likely range, and the same without a gap in reliability.
 *
 * @param view - prepared results
 * @param id - prefix of ids
 * @param pairs - at least one
 * @param describe - a pair in words, for those who do not see the picture
 * @returns the figure
 */
export function pairFigure(
  view: View,
  id: string,
  pairs: readonly Comparison[],
  describe: (pair: Comparison) => string = pair => verdictSentence(view, pair),
): Picture {
  const { currency } = view.results.scenario
  return {
    heading: `Extra lifetime cost of the dearer option, ${currency}; left of zero it is cheaper`,
    key: [
      markKey(element('circle', { cx: 16, cy: 10, r: 4, class: 'dot' }), 'on average'),
      markKey(rule(2, 10, 30, 10, 'span'), 'likely range, what is not known counted in (5 % to 95 %)'),
      ...(pairs.some(pair => pair.withTierEffect0 !== null)
        ? [markKey(element('circle', { cx: 16, cy: 10, r: 6, class: 'ring' }), 'if both failed alike')]
        : []),
    ],
    svg: intervalChart(
      {
        id,
        title: 'Difference in lifetime cost of each pair of options',
        description: `Left of zero the dearer option is cheaper over its life. ${pairs.map(describe).join(' ')}`,
      },
      {
        intervals: pairs.map(pair => ({
          words: `${pair.option} against ${pair.against}: ${verdictWords(view, pair)}`,
          low: pair.interval90[0],
          high: pair.interval90[1],
          dot: pair.meanDifference,
          ring: pair.withTierEffect0?.meanDifference ?? null,
        })),
        axisName: `${currency}, present value over ${view.horizon}`,
        write: value => formatNumber(value, 1, view.locale),
        below: 'cheaper over its life',
        above: 'dearer over its life',
      },
    ),
  }
}

/**
 * The same figures as pairFigure in a table.
 *
 * @param view - prepared results
 * @param pairs - at least one
 * @returns the table
 */
export function pairTable(view: View, pairs: readonly Comparison[]): Table {
  const bare = (text: string): string => text.replace(/^\S+\s/u, '')
  return table(
    `The dearer option against the cheaper one, ${view.results.scenario.currency}`,
    [
      'Pair',
      '#Quoted extra price',
      '#Worth up to',
      '#Lifetime difference',
      '#Likely range',
      '#If both failed alike',
      '#Ahead on average',
      '#Cheaper in one lifetime',
    ],
    pairs.map(pair => [
      `${pair.option} against ${pair.against}`,
      bare(view.money(premiumOf(view, pair), 0)),
      pair.breakEvenPremium < 0 ? 'nothing more' : bare(view.money(pair.breakEvenPremium, pair.standardError)),
      bare(view.money(pair.meanDifference, pair.standardError)),
      bare(view.moneyRange(pair.interval90[0], pair.interval90[1], pair.standardError)),
      pair.withTierEffect0 === null
        ? 'not played'
        : bare(view.money(pair.withTierEffect0.meanDifference, pair.withTierEffect0.standardError)),
      formatChance(pair.chanceBetterOnAverage, view.locale),
      formatChance(pair.chanceCheaper, view.locale),
    ]),
    [
      'A difference below zero means that the dearer option is cheaper over its life. “Ahead on average” is the share of the sets of assumptions in which the dearer option is cheaper; “cheaper in one lifetime” adds luck and decides nothing by itself.',
      ...(pairs.length < view.results.comparisons.length ? ['Every pair is in comparisons.csv.'] : []),
    ],
  )
}

function varianceSentence(pair: Comparison): string {
  const { chanceShare, unknownShare } = pair.varianceShares
  if (chanceShare === null || unknownShare === null) return ''
  return chanceShare >= unknownShare
    ? `Most of the spread of this difference, ${formatShare(chanceShare)}, is luck: when and whether things fail. The rest is what nobody knows yet about these products and prices.`
    : `Most of the spread of this difference, ${formatShare(unknownShare)}, is what nobody knows yet about these products and prices. The rest is luck: when and whether things fail.`
}
