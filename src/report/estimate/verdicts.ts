/**
 * A comparison in sentences a person could repeat (K2, K3).
 */
import type { Comparison, NullCase, Verdict } from '../../analysis/results/comparison.ts'
import { formatChance, formatOfHundred } from '../format/share.ts'
import { joinWords } from '../names.ts'
import type { View } from './view.ts'

/**
 * Whether the dearer of two options earns its extra price, in one sentence.
 *
 * @param view - prepared results
 * @param pair - the comparison
 * @returns a sentence with the names and the amounts
 */
export function verdictSentence(view: View, pair: Comparison): string {
  const dearer = view.name(pair.option)
  const cheaper = view.name(pair.against)
  const difference = view.gap(pair.meanDifference, pair.standardError)
  const premium = premiumOf(view, pair)
  const start =
    premium > 0
      ? `Paying ${view.money(premium, 0)} more for ${dearer} than for ${cheaper}`
      : `Choosing ${dearer} over ${cheaper}, at the same price,`
  if (pair.verdict === null) {
    return `${dearer} and ${cheaper} do not do the same job, so no verdict is given: over ${view.horizon} ${pair.meanDifference < 0 ? dearer : cheaper} is about ${difference} cheaper, ${whatDiffers(view, pair)}.`
  }
  if (premium <= 0 && leaning(pair.verdict) !== 'open') {
    return `${dearer} and ${cheaper} cost the same to buy: over ${view.horizon} ${dearer} is ${verdictWords(view, pair).startsWith('probably') ? 'probably ' : ''}about ${difference} ${leaning(pair.verdict) === 'for' ? 'cheaper' : 'dearer'}.`
  }
  const sentences: Record<Verdict, string> = {
    'no difference worth naming': `${dearer} and ${cheaper} cost the same over ${view.horizon} as far as anyone can tell: the difference is about ${difference}, under 1 % of either.`,
    'too close to call': `${start} is too close to call: over ${view.horizon} ${pair.meanDifference < 0 ? dearer : cheaper} is about ${difference} cheaper on average, less than what is not known.`,
    'pays back': `${start} pays back: over ${view.horizon} it is about ${difference} cheaper, its price included.`,
    'probably pays back': `${start} probably pays back: over ${view.horizon} it is about ${difference} cheaper on average, its price included.`,
    'probably does not pay back': `${start} probably does not pay back: over ${view.horizon} it is about ${difference} dearer on average.`,
    'does not pay back': `${start} does not pay back: over ${view.horizon} it is about ${difference} dearer.`,
  }
  return sentences[pair.verdict]
}

/**
 * The verdict of a comparison in a table or a picture; two that cost the same to buy have no extra price to pay back.
 *
 * @param view - prepared results
 * @param pair - the comparison
 * @returns e.g. `probably pays back`, `dearer over its life`
 */
export function verdictWords(view: View, pair: Comparison): string {
  if (pair.verdict === null) return 'not the same job'
  if (premiumOf(view, pair) > 0 || leaning(pair.verdict) === 'open') return pair.verdict
  const surely = pair.verdict.startsWith('probably') ? 'probably ' : ''
  return `${surely}${leaning(pair.verdict) === 'for' ? 'cheaper' : 'dearer'} over its life`
}

/** What prevents a verdict, as an aside. */
function whatDiffers(view: View, pair: Comparison): string {
  const [one, other] = [view.option(pair.option), view.option(pair.against)]
  const later = [one, other].map(({ laterPurchases }) => laterPurchases.join(', ') || 'nothing')
  if (later[0] !== later[1]) {
    return `but what may be bought later differs: ${later[0]} with ${view.name(one)}, ${later[1]} with ${view.name(other)}`
  }
  const unknown = [pair.option, pair.against].map(view.option).find(option => option.batteryWorth === 'unknown')
  return unknown === undefined ? 'all else left aside' : `what the battery of ${view.name(unknown)} earns left out`
}

/**
 * What the battery of one of two options would have to earn for both to cost the same (O7).
 *
 * @param view - prepared results
 * @param pair - the comparison
 * @returns a sentence; null where both or neither has one
 */
export function batterySentence(view: View, pair: Comparison): string | null {
  const perDay = pair.batteryWouldHaveToEarnPerDay
  if (perDay === null) return null
  const [one, other] = [view.option(pair.option), view.option(pair.against)]
  const [owner, without] = one.batteryWorth === 'none' ? [other, one] : [one, other]
  const now = pair.batteryEarnsPerDay
  const taken =
    now === null ? 'What it earns is not known.' : `Here it is taken to earn ${view.perDay(now)} a day on average.`
  return perDay <= 0
    ? `${view.name(owner)} breaks even with ${view.name(without)} or better even if its battery earns nothing. ${taken}`
    : `To break even with ${view.name(without)}, the battery of ${view.name(owner)} would have to earn about ${view.perDay(perDay)} a day, its outages counted. ${taken}`
}

/**
 * The price at which the dearer option breaks even (K2).
 *
 * @param view - prepared results
 * @param pair - the comparison
 * @returns a sentence
 */
export function breakEvenSentence(view: View, pair: Comparison): string {
  const [dear, cheap] = [view.option(pair.option), view.option(pair.against)]
  const quoted = `it is quoted at ${view.money(dear.costs.upfront, 0)}`
  const price = cheap.costs.upfront + pair.breakEvenPremium
  if (price <= 0) return `${view.name(dear)} does not break even with ${view.name(cheap)} at any price; ${quoted}.`
  const [low, high] = pair.breakEvenInterval90.map(premium => Math.max(0, cheap.costs.upfront + premium))
  const range = view.moneyRange(low ?? price, high ?? price, pair.standardError)
  return `${view.name(dear)} breaks even with ${view.name(cheap)} at a price of about ${view.money(price, pair.standardError)} (likely range: ${range}); ${quoted}.`
}

/**
 * The differences that remain when better reliability is not assumed (U1c).
 *
 * @param view - prepared results
 * @param pairs - comparisons
 * @returns one sentence for those where a gap was played; null where there is none
 */
export function sameReliabilitySentence(view: View, pairs: readonly Comparison[]): string | null {
  const played = pairs.filter(pair => pair.withTierEffect0 !== null)
  if (played.length === 0) return null
  const who = played.length === 1 ? 'both' : 'all'
  const left = [...new Set(played.flatMap(pair => stillDiffers(view, pair)))]
  const alike = left.length === 0 ? 'and nothing else differed' : `and only ${joinWords(left)} still differed`
  const first = `If ${who} failed alike, ${alike}, ${nullCases(
    view,
    played,
    pair => pair.withTierEffect0,
    id => view.name(id),
  )}.`
  if (!left.includes(SPARE)) return first
  const second = nullCases(
    view,
    played,
    pair => pair.withTierEffect0AndSpareAlike,
    id => id,
  )
  return `${first} With spares at one price too, ${second}.`
}

/** The difference of each pair in one null case; an option that several are compared with is named once. */
function nullCases(
  view: View,
  pairs: readonly Comparison[],
  of: (pair: Comparison) => NullCase | null,
  name: (id: string) => string,
): string {
  const played = pairs.flatMap(pair => {
    const without = of(pair)
    return without === null ? [] : [{ option: pair.option, against: pair.against, without }]
  })
  return joinWords(
    played.map(({ option, against, without: { meanDifference, standardError } }, i) => {
      const amount = `about ${view.gap(meanDifference, standardError)} ${meanDifference < 0 ? 'cheaper' : 'dearer'}`
      return played[i - 1]?.against === against
        ? `${name(option)} ${amount}`
        : `${name(option)} would be ${amount} than ${name(against)}`
    }),
  )
}

const SPARE = 'the price of the spare'

/** What may differ between options of different tiers, except reliability, by the keys of their assumptions (K5). */
const BEYOND_RELIABILITY = [
  ['cover', / \/ warranty\./],
  ['service', / \/ downtime\./],
  ['the chance that the maker stops', / \/ warranty_provider\.exit_rate_per_year$/],
  [SPARE, / \/ replacement\.parts$/],
] as const

/** What still differs between two options that fail alike (K5). */
function stillDiffers(view: View, pair: Comparison): string[] {
  const givenOf = (id: string, key: RegExp): string => {
    const start = `${view.option(id).name} / `
    const those = view.results.inputs.filter(input => input.key.startsWith(start) && key.test(input.key))
    return JSON.stringify(those.map(input => [input.key.slice(start.length), input.value, input.low, input.high]))
  }
  return BEYOND_RELIABILITY.flatMap(([words, key]) =>
    givenOf(pair.option, key) === givenOf(pair.against, key) ? [] : [words],
  )
}

/** What a run without ranges cannot say. */
const NOTHING_VARIED = 'Every figure was taken at one value, so the effect of what is not known is not shown.'

/**
 * In how many sets of assumptions the option that is cheaper on average stays so (K3), and how much of what is not known
 * nobody has measured (K4): the first is never given without the second.
 *
 * @param view - prepared results
 * @param pair - the comparison of the two
 * @returns a sentence; NOTHING_VARIED without ± inputs
 */
export function staysCheaperSentence(view: View, pair: Comparison): string {
  if (view.results.parameterSets <= 1) return NOTHING_VARIED
  const dearerWins = pair.meanDifference < 0
  const share = dearerWins ? pair.chanceBetterOnAverage : 1 - pair.chanceBetterOnAverage
  const two = view.results.options.length === 2 ? 'the two' : [pair.option, pair.against].sort().join(' and ')
  const { judgementShare } = pair.varianceShares
  const judged =
    judgementShare === null
      ? ''
      : `; ${formatChance(judgementShare, view.locale)} of what is not known about the difference rests on judgement, figures that nobody has measured`
  return `${view.name(dearerWins ? pair.option : pair.against)} stays the cheaper of ${two} in ${formatOfHundred(share)} sets of assumptions drawn from the ranges${judged}.`
}

/**
 * How sure it is that one option costs less than another: on average, and in one lifetime.
 *
 * @param view - prepared results
 * @param pair - the comparison of the two
 * @returns sentences
 */
export function surenessSentence(view: View, pair: Comparison): string {
  const share = pair.meanDifference < 0 ? pair.chanceCheaper : 1 - pair.chanceCheaper
  const better = view.name(pair.meanDifference < 0 ? pair.option : pair.against)
  return `${staysCheaperSentence(view, pair)} In a single lifetime, where luck counts too, ${better} is the cheaper in ${formatOfHundred(share)}.`
}

/**
 * How much more the dearer option costs to buy.
 *
 * @param view - prepared results
 * @param pair - the comparison
 * @returns currency units, >= 0
 */
export function premiumOf(view: View, pair: Comparison): number {
  return view.option(pair.option).costs.upfront - view.option(pair.against).costs.upfront
}

/**
 * Whether a verdict is in favour of the dearer option, against it, or neither.
 *
 * @param verdict - K3
 * @returns 'for', 'against' or 'open'; 'none': the two do not do the same job
 */
export function leaning(verdict: Verdict | null): 'for' | 'against' | 'open' | 'none' {
  if (verdict === null) return 'none'
  if (verdict === 'pays back' || verdict === 'probably pays back') return 'for'
  return verdict === 'does not pay back' || verdict === 'probably does not pay back' ? 'against' : 'open'
}
