import type { Comparison } from '../../analysis/results.ts'
import { formatOfHundred } from '../format.ts'
import { leaning, sameReliabilitySentence, surenessSentence, verdictSentence } from '../verdicts.ts'
import type { View } from '../view.ts'

/**
 * The whole answer in one paragraph, and beside it what stays of it if tiers do not differ in reliability.
 *
 * @param view - prepared results
 * @returns paragraphs; the first is the answer
 */
export function answer(view: View): string[] {
  return [[ranking(view), price(view), life(view)].filter(text => text !== '').join(' '), ...sameReliability(view)]
}

function ranking(view: View): string {
  const { best, second, horizonYears } = view
  const cost = view.money(best.lifetimeCost.mean, best.lifetimeCost.standardError)
  const counted = 'with purchase, repairs, call-outs and lost energy counted in today\u2019s money'
  if (second === null) {
    return `Over ${horizonYears} years ${view.name(best)} is expected to cost about ${cost}, ${counted}.`
  }
  const pair = view.comparison(best, second)
  if (pair === null) {
    return `Over ${horizonYears} years ${view.name(best)} is expected to cost least: about ${cost}, ${counted}.`
  }
  const gap = view.money(Math.abs(pair.meanDifference), pair.standardError)
  if (leaning(pair.verdict) === 'open') {
    return `Over ${horizonYears} years ${view.name(best)} and ${view.name(second)} cost so nearly the same that the figures cannot choose between them: about ${cost}, ${counted}, with a difference of about ${gap}. Let the warranty terms, the service or your own taste decide.`
  }
  return `Over ${horizonYears} years ${view.name(best)} is expected to cost least: about ${cost}, ${counted}. Next comes ${view.name(second)}, about ${gap} dearer. ${surenessSentence(view, pair, best).replace(/^It /, `${view.name(best)} `)}`
}

/** Whether paying more than for the cheapest to buy is worth it. */
function price(view: View): string {
  const cheapest = cheapestToBuy(view)
  const pairs = view.results.comparisons.filter(pair => pair.against === cheapest.id)
  if (pairs.length === 0) return ''
  const pair = view.best.id === cheapest.id ? null : view.comparison(view.best, cheapest)
  if (pair !== null) return verdictSentence(view, pair)
  const against = pairs.filter(one => leaning(one.verdict) === 'against')
  if (against.length === pairs.length) {
    return `It is also the cheapest to buy: on these figures no dearer option earns its extra price.`
  }
  return `It is also the cheapest to buy.`
}

function life(view: View): string {
  const { best } = view
  const { none, one, twoOrMore } = best.visitShares
  const bill = best.billYears10To15.p90
  const billSaid =
    view.horizonYears < 10
      ? ''
      : ` In 9 of 10 lifetimes no single year\u2019s bill between years 10 and 15 passes ${view.money(bill, null)}.`
  return `With ${view.name(best)}, ${formatOfHundred(none)} roofs never pay for a visit, ${formatOfHundred(one)} pay for one, and ${formatOfHundred(twoOrMore)} for two or more.${billSaid} Putting aside ${view.money(best.reserve.contributionAt['90'], null)} a year covers all bills in 9 of 10 lifetimes.`
}

/** Judgement beside the headline: the null case of every pair that has the best or the cheapest in it. */
function sameReliability(view: View): string[] {
  const cheapest = cheapestToBuy(view)
  const said = view.results.comparisons
    .filter(pair => involves(pair, view.best.id) || involves(pair, cheapest.id))
    .map(pair => sameReliabilitySentence(view, pair))
    .filter(sentence => sentence !== null)
  if (said.length === 0) return []
  return [
    `That a dearer make-up of inverter fails less is a judgement: no independent field data show it. ${said.slice(0, 3).join(' ')}`,
  ]
}

function involves(pair: Comparison, id: string): boolean {
  return pair.option === id || pair.against === id
}

function cheapestToBuy(view: View) {
  return view.ranked.reduce((lowest, option) => (option.costs.upfront < lowest.costs.upfront ? option : lowest))
}
