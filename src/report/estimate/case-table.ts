import type { Comparison } from '../../analysis/results/comparison.ts'
import type { OptionResult } from '../../analysis/results/option.ts'
import { shownOn, type Table, table } from '../content.ts'
import { formatNumber, roundingStep } from '../format/number.ts'
import { joinWords } from '../names.ts'
import { coveredShare } from '../sheet/option-table.ts'
import { countedWords } from './cost-words.ts'
import { premiumOf } from './verdicts.ts'
import type { View } from './view.ts'
import { daysAreDark } from './whole-roof.ts'

/** One figure of a pair: what the dearer option has, what the cheaper, and which of the two the difference favours. */
export interface CaseRow {
  readonly words: string
  readonly dear: string
  readonly cheap: string
  /** Standard error of the difference; empty where it is exact. */
  readonly error: string
  /** null: less than two standard errors apart. */
  readonly speaks: 'for' | 'against' | null
}

/**
 * Everything that speaks for the dearer of two options and against it, each with its error (K2): costs, visits, days, energy
 * and cover.
 *
 * @param view - prepared results
 * @param pair - the comparison
 * @returns rows, the price first
 */
export function caseRows(view: View, pair: Comparison): CaseRow[] {
  const [dear, cheap] = [view.option(pair.option), view.option(pair.against)]
  const both = (of: (option: OptionResult) => number): [number, number] => [of(dear), of(cheap)]
  const apart = (of: (option: OptionResult) => number): number => Math.hypot(of(dear), of(cheap))
  const row = (
    words: string,
    [mine, theirs]: readonly [number, number],
    error: number,
    better: 'less' | 'more',
    finest = 1,
  ): CaseRow => {
    const said = (value: number): string => formatNumber(value, roundingStep(value, error, finest), view.locale)
    const gap = better === 'less' ? theirs - mine : mine - theirs
    return {
      words,
      dear: said(mine),
      cheap: said(theirs),
      error: error === 0 ? '' : formatNumber(Math.max(error, finest), roundingStep(error, error, finest), view.locale),
      speaks: gap === 0 || Math.abs(gap) < 2 * error ? null : gap > 0 ? 'for' : 'against',
    }
  }
  const lost = (option: OptionResult): number => option.energy.outageLossKwh.mean
  const lostError = (option: OptionResult): number => option.energy.outageLossKwh.standardError
  // days down are lost energy in another unit, so their relative error is the same
  const dayError = (option: OptionResult): number =>
    lost(option) > 0 ? (option.downtimeDays.mean * lostError(option)) / lost(option) : 0
  const [dearCover, cheapCover] = both(option => coveredShare(option) ?? Number.NaN)
  return [
    row(
      'Price',
      both(({ costs }) => costs.upfront),
      0,
      'less',
    ),
    row(
      'Cost over its life, on average',
      both(({ lifetimeCost }) => lifetimeCost.mean),
      pair.standardError,
      'less',
    ),
    row(
      '9 in 10 lifetimes cost less than',
      both(({ lifetimeCost }) => lifetimeCost.p90),
      apart(({ lifetimeCost }) => lifetimeCost.standardErrors.p90),
      'less',
    ),
    row(
      '19 in 20 lifetimes cost less than',
      both(({ lifetimeCost }) => lifetimeCost.p95),
      apart(({ lifetimeCost }) => lifetimeCost.standardErrors.p95),
      'less',
    ),
    row(
      'Mean of the dearest tenth',
      both(({ lifetimeCost }) => lifetimeCost.worstTenthMean),
      apart(({ lifetimeCost }) => lifetimeCost.standardErrors.worstTenthMean),
      'less',
    ),
    row(
      'Of 100 roofs, never pay for a visit',
      both(({ visitShares }) => 100 * visitShares.none),
      100 * apart(({ noVisitStandardError }) => noVisitStandardError),
      'more',
    ),
    row(
      'Visits that the owner pays for, mean',
      both(({ visits }) => visits.mean),
      apart(({ visits }) => visits.standardError),
      'less',
      0.01,
    ),
    row(
      'Largest bill of a year, 9 in 10',
      both(({ largestYear }) => largestYear.p90),
      apart(({ largestYear }) => largestYear.standardErrors.p90),
      'less',
    ),
    ...(daysAreDark(view)
      ? [
          row(
            'Days with the roof dark',
            both(({ downtimeDays }) => downtimeDays.mean),
            apart(dayError),
            'less',
          ),
        ]
      : []),
    row('Energy lost to failures, kWh', both(lost), apart(lostError), 'less'),
    row(
      'Energy delivered, kWh',
      both(({ energy }) => energy.deliveredKwh),
      apart(lostError),
      'more',
    ),
    ...(Number.isNaN(dearCover) || Number.isNaN(cheapCover)
      ? []
      : [
          row(
            `Years of repair bills that cover pays, of ${view.horizonYears}`,
            [dearCover * view.horizonYears, cheapCover * view.horizonYears],
            view.horizonYears * apart(coverError),
            'more',
            0.1,
          ),
        ]),
  ]
}

/** Upper bound of the standard error of the share of bills that cover pays: the errors of the lines are added. */
function coverError({ costStandardErrors, paidByCover, paidByCoverStandardError, costs }: OptionResult): number {
  if (paidByCover === null) return 0
  const paid = paidByCover.parts + paidByCover.labour + paidByCover.visits
  const mine = costs.parts + costs.labour + costs.visits
  const mineError = costStandardErrors.parts + costStandardErrors.labour + costStandardErrors.visits
  const bill = paid + mine
  return bill > 0 ? Math.hypot(mine * paidByCoverStandardError, paid * mineError) / (bill * bill) : 0
}

/** Beginnings of the rows that a short table leaves out, since another row says nearly the same. */
const TWICE_SAID = ['19 in 20', 'Mean of', 'Visits that', 'Energy delivered']

/**
 * The case for each dearer option and against it: on a page side by side, on a phone one table each.
 *
 * @param view - prepared results
 * @param pairs - against the same option
 * @param say - how options are named in the caption
 * @param inShort - leave out the rows of TWICE_SAID
 */
export function caseTables(
  view: View,
  pairs: readonly Comparison[],
  say: (option: OptionResult) => string,
  inShort = false,
): Table[] {
  const { currency } = view.results.scenario
  const cases = pairs.map(pair => ({
    pair,
    rows: caseRows(view, pair).filter(({ words }) => !inShort || !TWICE_SAID.some(start => words.startsWith(start))),
  }))
  const [first] = cases
  if (first === undefined) return []
  const speaks = ({ speaks }: CaseRow): string => speaks ?? 'neither'
  const caption = (those: readonly Comparison[]): string =>
    `What speaks for ${joinWords(those.map(({ option }) => say(view.option(option))))} and what against, ${currency}`
  const phone = cases.map(({ pair, rows }) =>
    shownOn(
      'phone',
      table(
        caption([pair]),
        ['Figure', `#${pair.option}`, `#${pair.against}`, '#\u00b1', `For ${pair.option}?`],
        rows.map(row => [row.words, row.dear, row.cheap, row.error, speaks(row)]),
      ),
    ),
  )
  const wide = table(
    caption(pairs),
    ['Figure', `#${first.pair.against}`, ...pairs.flatMap(({ option }) => [`#${option}`, '#\u00b1', `For ${option}?`])],
    first.rows.map((row, i) => [
      row.words,
      row.cheap,
      ...cases.flatMap(({ rows }) => {
        const mine = rows[i] ?? row
        return [mine.dear, mine.error, speaks(mine)]
      }),
    ]),
    [
      `\u00b1 is one standard error of the difference; \u201cneither\u201d: less than two of them apart. Cost over its life: ${countedWords(view)}.`,
    ],
  )
  return [...phone, shownOn('desk', wide)]
}

/**
 * The dearer options against the cheapest to buy, those first that do best over their life.
 *
 * @param view - prepared results
 * @returns pairs with a verdict and an extra price
 */
export function dearerPairs(view: View): Comparison[] {
  const cheapest = view.ranked.reduce((low, option) => (option.costs.upfront < low.costs.upfront ? option : low))
  return view.results.comparisons
    .filter(pair => pair.against === cheapest.id && pair.verdict !== null && premiumOf(view, pair) > 0)
    .sort((a, b) => a.meanDifference - b.meanDifference)
}
