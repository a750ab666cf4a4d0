import type { Comparison } from '../../analysis/results/comparison.ts'
import type { OptionResult } from '../../analysis/results/option.ts'
import { howSure, turnedBySentence } from '../estimate/how-sure.ts'
import { premiumOf, sameReliabilitySentence } from '../estimate/verdicts.ts'
import type { View } from '../estimate/view.ts'
import { formatDays, formatEnergy } from '../format/quantity.ts'
import { formatShare } from '../format/share.ts'
import type { SheetBox } from './content.ts'
import { coveredShare, visitSplit } from './option-table.ts'
import { toAsk } from './to-ask.ts'

/**
 * The dearer option that does best over its life, against the cheapest to buy.
 *
 * @param view - prepared results
 * @returns the pair; null where no option is dearer
 */
export function dearerPair(view: View): Comparison | null {
  const cheapest = view.ranked.reduce((low, option) => (option.costs.upfront < low.costs.upfront ? option : low))
  const pairs = view.results.comparisons.filter(
    pair => pair.against === cheapest.id && pair.verdict !== null && premiumOf(view, pair) > 0,
  )
  return pairs.reduce<Comparison | null>(
    (best, pair) => (best === null || pair.meanDifference < best.meanDifference ? pair : best),
    null,
  )
}

/**
 * The boxes of the customer's page: what speaks for the dearer option and what against it, in visits, days and bills as
 * well as in money; how sure; what to ask.
 *
 * @param view - prepared results
 * @returns boxes with at least one point
 */
export function customerBoxes(view: View): SheetBox[] {
  const pair = dearerPair(view)
  const rest = [
    {
      heading: 'How sure this is',
      points: [...howSure(view, pair), ...(pair === null ? [] : turnedBySentence(view, pair))],
    },
    { heading: 'Ask before you sign', points: toAsk(view) },
  ]
  if (pair === null) return rest
  const [dear, cheap] = [view.option(pair.option), view.option(pair.against)]
  const said = [moneyPoint(view, pair), ...sides(view, dear, cheap), ...climbPoint(view, pair, dear, cheap)]
  const same = sameReliabilitySentence(view, [pair])
  return [
    {
      heading: `For ${view.name(dear)}`,
      points: said.filter(point => point.speaksFor).map(({ sentence }) => sentence),
    },
    {
      heading: `Against ${view.name(dear)}`,
      points: [
        ...said.filter(point => !point.speaksFor).map(({ sentence }) => sentence),
        ...(pair.aheadFromYear === null || pair.aheadFromYear === 0
          ? []
          : [`Whoever sells the house before year ${pair.aheadFromYear} has not won the extra price back.`]),
        ...(same === null ? [] : [same]),
      ],
    },
    ...rest,
  ].filter(box => box.points.length > 0)
}

interface Point {
  readonly sentence: string
  readonly speaksFor: boolean
}

function moneyPoint(view: View, pair: Comparison): Point {
  const gap = view.gap(pair.meanDifference, pair.standardError)
  const cheaper = pair.meanDifference < 0
  return {
    sentence: `Over ${view.horizon} it comes out about ${gap} ${cheaper ? 'cheaper' : 'dearer'} on average (verdict: ${pair.verdict}).`,
    speaksFor: cheaper,
  }
}

/** Visits, the worst bill, days still, cover: each where the two differ by what can be shown. */
function sides(view: View, dear: OptionResult, cheap: OptionResult): Point[] {
  const points: Point[] = []
  const [mine = '', theirs = ''] = [dear, cheap].map(option => visitSplit(option)[0])
  if (mine !== theirs)
    points.push({
      sentence: `Of 100 roofs ${mine} never pay for a repair visit, against ${theirs}.`,
      speaksFor: dear.visitShares.none > cheap.visitShares.none,
    })
  const bills = [dear, cheap].map(option => view.money(option.largestYear.p90, option.largestYear.standardErrors.p90))
  if (bills[0] !== bills[1])
    points.push({
      sentence: `In 9 of 10 lifetimes the largest bill of a year stays under ${bills[0]}, against ${bills[1]}.`,
      speaksFor: dear.largestYear.p90 < cheap.largestYear.p90,
    })
  const days = [dear, cheap].map(option => formatDays(option.downtimeDays.mean, view.locale))
  if (days[0] !== days[1])
    points.push({
      sentence: `Its outages add up to ${days[0]} of the whole roof in ${view.horizon}, against ${days[1]}.`,
      speaksFor: dear.downtimeDays.mean < cheap.downtimeDays.mean,
    })
  const delivered = [dear, cheap].map(option => formatEnergy(option.energy.deliveredKwh, null, view.locale))
  if (delivered[0] !== delivered[1])
    points.push({
      sentence: `It delivers ${delivered[0]} in ${view.horizon}, against ${delivered[1]}.`,
      speaksFor: dear.energy.deliveredKwh > cheap.energy.deliveredKwh,
    })
  const [paid, otherPaid] = [coveredShare(dear), coveredShare(cheap)]
  if (paid !== null && otherPaid !== null && formatShare(paid) !== formatShare(otherPaid))
    points.push({
      sentence: `Cover pays ${formatShare(paid, view.locale)} of its repair bills, against ${formatShare(otherPaid, view.locale)}.`,
      speaksFor: paid > otherPaid,
    })
  return points
}

/** What a visit less costs, where the dearer option has fewer and comes out dearer. */
function climbPoint(view: View, pair: Comparison, dear: OptionResult, cheap: OptionResult): Point[] {
  const fewer = cheap.visits.mean - dear.visits.mean
  const error = Math.hypot(cheap.visits.standardError, dear.visits.standardError)
  if (pair.meanDifference <= 0 || fewer < 2 * error || fewer < 0.1) return []
  return [
    {
      sentence: `Each repair visit that it saves costs about ${view.about(pair.meanDifference / fewer, pair.standardError / fewer)}: worth it only to someone who would rather pay than have the visit.`,
      speaksFor: true,
    },
  ]
}
