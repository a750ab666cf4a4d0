import type { Comparison } from '../../analysis/results/comparison.ts'
import type { OptionResult } from '../../analysis/results/option.ts'
import { countedWords } from '../cost-words.ts'
import { formatOfHundred } from '../format/share.ts'
import type { Audience } from '../parts.ts'
import { asideSentence } from '../put-aside.ts'
import { leaning, premiumOf } from '../verdicts.ts'
import type { View } from '../view.ts'
import { dearerPair } from './customer.ts'

/**
 * The answer in three sentences: what costs least and how surely, and what life with it asks for.
 *
 * @param view - prepared results
 * @param audience - whose page it is
 * @returns one to three sentences
 */
export function sheetAnswer(view: View, audience: Audience): string[] {
  if (audience === 'owner') return [costsLeast(view), asideSentence(view, view.best), sure(view)]
  if (audience === 'retailer') {
    const pair = dearerPair(view)
    if (pair !== null) return [earns(view, pair), sureOf(view, pair), costsLeast(view)]
  }
  return [costsLeast(view), sure(view), asideSentence(view, view.best)].filter(sentence => sentence !== '')
}

function costsLeast(view: View): string {
  const { best, second, horizon } = view
  const cost = view.about(best.lifetimeCost.mean, best.lifetimeCost.standardError)
  const counted = countedWords(view)
  const pair = second === null ? null : view.comparison(best, second)
  if (second === null || pair === null) return `Over ${horizon} ${view.name(best)} costs about ${cost}, ${counted}.`
  const gap = view.about(Math.abs(pair.meanDifference), pair.standardError)
  return leaning(pair.verdict) === 'open'
    ? `Over ${horizon} ${view.name(best)} and ${view.name(second)} cost so nearly the same, about ${cost}, that these figures cannot choose between them.`
    : `Over ${horizon} ${view.name(best)} costs least, about ${cost}, ${counted}; next comes ${view.name(second)}, about ${gap} dearer.`
}

function sure(view: View): string {
  const pair = view.second === null ? null : view.comparison(view.best, view.second)
  return pair === null ? '' : sureOf(view, pair)
}

/** K3: the share of parameter sets in which the option that is cheaper on average stays so. */
function sureOf(view: View, pair: Comparison): string {
  if (view.results.parameterSets <= 1) return 'Every figure was taken at one value, so what is not known does not show.'
  const dearerWins = pair.meanDifference < 0
  const better = view.option(dearerWins ? pair.option : pair.against)
  const share = dearerWins ? pair.chanceBetterOnAverage : 1 - pair.chanceBetterOnAverage
  return `${view.name(better)} stays the cheaper of ${theTwo(view, pair)} in ${formatOfHundred(share)} sets of assumptions drawn from the ranges.`
}

function theTwo(view: View, pair: Comparison): string {
  const other = (id: string): OptionResult => view.option(id)
  return view.results.options.length === 2 ? 'the two' : `${other(pair.against).id} and ${other(pair.option).id}`
}

function earns(view: View, pair: Comparison): string {
  const [dear, cheap] = [view.option(pair.option), view.option(pair.against)]
  const premium = view.money(premiumOf(view, pair), 0)
  const gap = view.about(Math.abs(pair.meanDifference), pair.standardError)
  if (leaning(pair.verdict) === 'open')
    return `${view.name(dear)} costs ${premium} more to buy than ${view.name(cheap)}, and over ${view.horizon} the two cost so nearly the same that these figures cannot choose between them.`
  return `${view.name(dear)} costs ${premium} more to buy than ${view.name(cheap)} and comes out about ${gap} ${pair.meanDifference < 0 ? 'cheaper' : 'dearer'} over ${view.horizon}.`
}
