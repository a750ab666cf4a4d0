import type { Comparison } from '../../analysis/results/comparison.ts'
import type { OptionResult } from '../../analysis/results/option.ts'
import { countedWords } from '../estimate/cost-words.ts'
import type { Audience } from '../estimate/parts.ts'
import { asideSentence } from '../estimate/put-aside.ts'
import { leaning, premiumOf, staysCheaperSentence } from '../estimate/verdicts.ts'
import type { View } from '../estimate/view.ts'
import { dearerPair } from './customer.ts'

/**
 * The answer in three sentences: what costs least and how surely, and what it needs over its life.
 *
 * @param view - prepared results
 * @param audience - whose page it is
 * @returns one to three sentences
 */
export function sheetAnswer(view: View, audience: Audience): string[] {
  if (audience === 'owner') return [costsLeast(view), asideSentence(view, view.best), sure(view)]
  if (audience === 'retailer') {
    const pair = dearerPair(view)
    if (pair !== null) {
      const rest = isBestPair(view, pair) ? [] : [costsLeast(view)]
      return [earns(view, pair), staysCheaperSentence(view, pair), ...rest]
    }
  }
  return [costsLeast(view), sure(view), asideSentence(view, view.best)].filter(sentence => sentence !== '')
}

/** Whether a pair is the two options that cost least, so that its sentence is the whole answer. */
function isBestPair(view: View, pair: Comparison): boolean {
  return view.second !== null && view.comparison(view.best, view.second) === pair
}

function costsLeast(view: View): string {
  const { best, second, horizon } = view
  const cost = view.about(best.lifetimeCost.mean, best.lifetimeCost.standardError)
  const counted = countedWords(view)
  const pair = second === null ? null : view.comparison(best, second)
  if (second === null || pair === null) return `Over ${horizon} ${view.name(best)} costs about ${cost} (${counted}).`
  const gap = view.gap(pair.meanDifference, pair.standardError)
  return leaning(pair.verdict) === 'open'
    ? `${view.name(best)} or ${view.name(second)}: over ${horizon} ${nearlyTheSame(view, best, second)}.`
    : `Over ${horizon} ${view.name(best)} costs least, about ${cost} (${counted}); next comes ${view.name(second)}, about ${gap} dearer.`
}

function sure(view: View): string {
  const pair = view.second === null ? null : view.comparison(view.best, view.second)
  return pair === null ? '' : staysCheaperSentence(view, pair)
}

function earns(view: View, pair: Comparison): string {
  const [dear, cheap] = [view.option(pair.option), view.option(pair.against)]
  const premium = view.money(premiumOf(view, pair), 0)
  const start = `${view.name(dear)} costs ${premium} more to buy than ${view.name(cheap)}`
  if (leaning(pair.verdict) === 'open') return `${start}; over ${view.horizon} ${nearlyTheSame(view, dear, cheap)}.`
  return `${start} and is about ${view.gap(pair.meanDifference, pair.standardError)} ${pair.meanDifference < 0 ? 'cheaper' : 'dearer'} over ${view.horizon}.`
}

/** Two costs that are too close to choose by, each with its own name. */
function nearlyTheSame(view: View, one: OptionResult, other: OptionResult): string {
  const [mine, theirs] = [one, other].map(option =>
    view.money(option.lifetimeCost.mean, option.lifetimeCost.standardError),
  )
  const costs = mine === theirs ? `both about ${mine}` : `about ${mine} and ${theirs}`
  return `they cost nearly the same, ${costs}, so cost does not decide between them`
}
