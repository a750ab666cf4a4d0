import type { Comparison } from '../../../analysis/results/comparison.ts'
import type { OptionResult } from '../../../analysis/results/option.ts'
import { formatSplit } from '../../format/share.ts'
import { countedWords } from '../cost-words.ts'
import { howSure } from '../how-sure.ts'
import { asideSentence } from '../put-aside.ts'
import { roofKnown } from '../roof-known.ts'
import {
  batterySentence,
  leaning,
  premiumOf,
  sameReliabilitySentence,
  surenessSentence,
  verdictSentence,
} from '../verdicts.ts'
import { bestPair, type View } from '../view.ts'

/**
 * The whole answer in one paragraph; after it the answer if tiers do not differ in reliability.
 *
 * @param view - prepared results
 * @returns paragraphs; the first is the answer
 */
export function answerSection(view: View): string[] {
  return [ranking(view), ...apart(view), ...sameReliability(view)]
}

/**
 * What follows the first table: visits and bills with the best option, and how far the answer can be trusted.
 *
 * @param view - prepared results
 * @returns paragraphs
 */
export function underTheAnswer(view: View): string[] {
  return [life(view), [...howSure(view, bestPair(view)), roofKnown(view)].join(' ')]
}

function ranking(view: View): string {
  const { best, second } = view
  const cost = view.about(best.lifetimeCost.mean, best.lifetimeCost.standardError)
  const counted = `in today\u2019s money (${countedWords(view)})`
  const pair = second === null ? null : view.comparison(best, second)
  if (second === null || pair === null) {
    return `Over ${view.horizon} ${view.name(best)} is expected to cost about ${cost} ${counted}.`
  }
  const gap = view.gap(pair.meanDifference, pair.standardError)
  if (pair.verdict === null) return `${verdictSentence(view, pair)} ${surenessSentence(view, pair)}`
  if (leaning(pair.verdict) === 'open') {
    return `Over ${view.horizon} ${view.name(best)} and ${view.name(second)} cost nearly the same, so cost does not decide between them: ${view.name(best)} costs about ${cost}, ${view.name(second)} about ${view.about(second.lifetimeCost.mean, second.lifetimeCost.standardError)} ${counted}. Choose by the terms, the service or your own taste. ${surenessSentence(view, pair)}`
  }
  return `Over ${view.horizon} ${view.name(best)} is expected to cost least: about ${cost} ${counted}. ${runnerUp(view, pair, second, gap)} ${surenessSentence(view, pair)} ${cheapestToBuy(view, second)}`.trim()
}

/** Options left out of the ranking, with what their battery would have to earn (O7). */
function apart(view: View): string[] {
  return view.leftOut.map(option => {
    const pair = view.comparison(option, view.best)
    const battery = pair === null ? null : batterySentence(view, pair)
    return `${view.name(option)} has a battery, so it does not do the same job and is left out of this ranking.${battery === null ? '' : ` ${battery}`}`
  })
}

function runnerUp(view: View, pair: Comparison, second: OptionResult, gap: string): string {
  const premium = premiumOf(view, pair)
  const next = `Next comes ${view.name(second)}, about ${gap} dearer over its life`
  if (premium <= 0) return `${next}.`
  const price = view.money(premium, 0)
  return pair.option === second.id
    ? `${next} and ${price} dearer to buy.`
    : `${next} although it is ${price} cheaper to buy.`
}

/** The cheapest to buy, where the sentences before do not name it so. */
function cheapestToBuy(view: View, second: OptionResult): string {
  const cheapest = view.ranked.reduce((low, option) => (option.costs.upfront < low.costs.upfront ? option : low))
  if (cheapest === view.best) {
    const pairs = view.results.comparisons.filter(pair => pair.against === cheapest.id)
    return pairs.every(pair => leaning(pair.verdict) === 'against')
      ? 'It is also the cheapest to buy: on these figures no dearer option earns its extra price.'
      : 'It is also the cheapest to buy.'
  }
  if (cheapest === second) return ''
  return `The cheapest to buy, ${view.name(cheapest)}, costs about ${view.about(cheapest.lifetimeCost.mean, cheapest.lifetimeCost.standardError)}.`
}

/** Judgement next to the headline: the null case of the pairs that have the best in it, else of all. */
function sameReliability(view: View): string[] {
  const played = view.results.comparisons.filter(pair => pair.withTierEffect0 !== null)
  const withBest = played.filter(pair => pair.option === view.best.id || pair.against === view.best.id)
  const said = sameReliabilitySentence(view, (withBest.length > 0 ? withBest : played).slice(0, 3))
  if (said === null) return []
  return [
    `That a robust inverter fails less than a plain or a budget one is a judgement: no independent field data show it. ${said}`,
  ]
}

function life(view: View): string {
  const { best } = view
  const [none, one, twoOrMore] = formatSplit([best.visitShares.none, best.visitShares.one, best.visitShares.twoOrMore])
  const { p90, standardErrors } = best.largestYear
  const bill =
    p90 > 0
      ? ` In 9 of 10 lifetimes no year brings a bill over ${view.money(p90, standardErrors.p90)}.`
      : ' In 9 of 10 lifetimes no year brings a bill.'
  return `With ${view.name(best)}, ${none} of\u00a0100 roofs never pay for a visit, ${one} pay for one, ${twoOrMore} for two or more.${bill} ${asideSentence(view, best)}`
}
