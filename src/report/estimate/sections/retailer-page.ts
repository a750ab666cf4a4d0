import type { Comparison } from '../../../analysis/results/comparison.ts'
import type { OptionResult } from '../../../analysis/results/option.ts'
import { capital } from '../../../plain-text.ts'
import { TOPOLOGIES } from '../../../topologies/index.ts'
import { type Finding, finding, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { joinList, plainName } from '../../names.ts'
import { caseRows, caseTables, dearerPairs } from '../case-table.ts'
import { howKnown } from '../margin.ts'
import { batterySentence, leaning, premiumOf, verdictSentence, verdictWords } from '../verdicts.ts'
import type { View } from '../view.ts'
import { switchSentence } from './switch-points.ts'
import { pairFigure } from './worth-it.ts'

/**
 * One page for a retailer: the case for a dearer design in generic terms, and when not to make it.
 *
 * @param view - prepared results
 * @returns the finding; null with one option
 */
export function retailerPage(view: View): Finding | null {
  const pairs = againstCheapest(view)
  if (pairs.length === 0) return null
  const made = pairs.filter(pair => leaning(pair.verdict) === 'for')
  return finding({
    id: 'retailer-page',
    topic: 'The case in one page',
    sentence: caseSentence(view, pairs, made),
    paragraphs: [],
    lists: [
      {
        lead: 'The case that can be made:',
        points: [
          ...(made.length === 0 ? [noCase(view, pairs)] : made.map(pair => casePoint(view, pair))),
          ...dearerPairs(view).flatMap(pair => beyondCost(view, pair)),
        ],
      },
      { lead: 'When not to make it:', points: [...against(view, pairs), ...limits(view, made)] },
    ],
    figures: [pairFigure(view, 'retailer', pairs, pair => withoutNames(view, verdictSentence(view, pair)))],
    tables: [
      table(
        'Each dearer design against the cheapest to buy',
        ['Design', '#Extra price', '#Worth up to', '#If both failed alike, worth up to', 'Verdict'],
        pairs.map(pair => [
          capital(view.generic(view.option(pair.option))),
          view.money(premiumOf(view, pair), 0),
          worth(view, pair.breakEvenPremium, pair.standardError),
          pair.withTierEffect0 === null
            ? 'not played'
            : worth(view, pair.withTierEffect0.breakEvenPremium, pair.withTierEffect0.standardError),
          verdictWords(view, pair),
        ]),
        [`Cheapest to buy: ${view.generic(cheapest(view))}.`],
      ),
    ],
    margin: [
      ...(pairs.some(pair => pair.withTierEffect0 !== null)
        ? [{ known: 'Judgement', text: 'How much less a robust inverter fails: no independent field data show it.' }]
        : []),
      ...howKnown(view, ['prices']).slice(0, 1),
    ],
  })
}

function cheapest(view: View) {
  return view.ranked.reduce((low, option) => (option.costs.upfront < low.costs.upfront ? option : low))
}

function againstCheapest(view: View): readonly Comparison[] {
  const { id } = cheapest(view)
  return view.results.comparisons.filter(pair => pair.against === id)
}

function worth(view: View, value: number, standardError: number): string {
  return value < 0 ? 'nothing more' : view.money(value, standardError)
}

function caseSentence(view: View, pairs: readonly Comparison[], made: readonly Comparison[]): string {
  const strongest = made.reduce<Comparison | null>(
    (top, pair) => (top === null || pair.meanDifference < top.meanDifference ? pair : top),
    null,
  )
  if (strongest === null) {
    return isOpen(pairs)
      ? 'At these prices no dearer design is shown to earn its extra price on this roof.'
      : 'At these prices no dearer design earns its extra price on this roof.'
  }
  return `On this roof and these prices ${view.generic(view.option(strongest.option))} ${earns(view, strongest)}.`
}

/** What a design in favour does, with or without a price to earn back. */
function earns(view: View, pair: Comparison): string {
  const surely = pair.verdict === 'pays back' ? '' : 'probably '
  return premiumOf(view, pair) > 0
    ? `${surely}earns its extra price`
    : `${surely}costs less over its life at the same price`
}

function isOpen(pairs: readonly Comparison[]): boolean {
  return pairs.some(pair => leaning(pair.verdict) === 'open')
}

function noCase(view: View, pairs: readonly Comparison[]): string {
  if (isOpen(pairs))
    return `None by cost. Where the difference is too small to call, terms and service may decide; the cheapest to buy is ${view.generic(cheapest(view))}.`
  return `None by cost: the cheapest to buy, ${view.generic(cheapest(view))}, is also the one to recommend.`
}

function casePoint(view: View, pair: Comparison): string {
  const ahead = pair.aheadFromYear === null ? '' : ` It is ahead for good from year ${pair.aheadFromYear}.`
  const premium = premiumOf(view, pair)
  const price = premium > 0 ? `${view.money(premium, 0)} more to buy` : 'the same to buy'
  return `${capital(view.generic(view.option(pair.option)))} costs ${price} and is about ${view.gap(pair.meanDifference, pair.standardError)} cheaper over ${view.horizon}.${ahead}`
}

/** Cases in one table; ours: more columns fit no page. */
const MOST_CASES = 3

/**
 * What speaks for the dearer designs and against them, figure by figure with its error.
 *
 * @param view - prepared results
 * @returns the finding; null where no design is dearer
 */
export function caseInFigures(view: View): Finding | null {
  const pairs = dearerPairs(view).slice(0, MOST_CASES)
  if (pairs.length === 0) return null
  const speaking = pairs.flatMap(pair => caseRows(view, pair).filter(({ speaks }) => speaks !== null))
  const count = (side: 'for' | 'against'): string =>
    formatNumber(speaking.filter(({ speaks }) => speaks === side).length, 1, view.locale)
  return finding({
    id: 'case-in-figures',
    topic: 'The case in figures',
    sentence: `Of the figures that differ by more than chance, ${count('for')} speak for a dearer design and ${count('against')} against one.`,
    paragraphs: ['Do not weigh them alike: cost over its life already includes visits, bills and lost energy.'],
    tables: caseTables(view, pairs, option => view.generic(option)),
    margin: howKnown(view, ['failures', 'cover']),
  })
}

/** What a customer may pay for in addition to cost: fewer visits, fewer days down, more energy, more cover. */
function beyondCost(view: View, pair: Comparison): string[] {
  const speaking = caseRows(view, pair).filter(
    ({ words, speaks }) => speaks === 'for' && BEYOND_COST.some(start => words.startsWith(start)),
  )
  if (speaking.length === 0) return []
  const said = speaking.map(
    ({ words, dear, cheap }) => `${words.charAt(0).toLowerCase()}${words.slice(1)}: ${dear} against ${cheap}`,
  )
  return [`In addition to cost, for ${view.generic(view.option(pair.option))}: ${joinList(said)}.`]
}

/** Beginnings of the rows of a case that are not costs. */
const BEYOND_COST = ['Of 100 roofs', 'Days with', 'Energy delivered', 'Years of repair bills']

function against(view: View, pairs: readonly Comparison[]): string[] {
  return pairs
    .filter(pair => leaning(pair.verdict) !== 'for')
    .map(pair => {
      const design = view.generic(view.option(pair.option))
      switch (leaning(pair.verdict)) {
        case 'against':
          return `For ${design}: it is about ${view.gap(pair.meanDifference, pair.standardError)} dearer over its life. Offer it only to a customer who wants something that is not priced here, and state this amount.`
        case 'none':
          return `For ${design} by cost: it does not do the same job.${spaced(batterySentence(view, pair))}`
        default:
          return `For ${design}: the difference is too small to be an argument.`
      }
    })
}

function spaced(sentence: string | null): string {
  return sentence === null ? '' : ` ${sentence}`
}

function limits(view: View, made: readonly Comparison[]): string[] {
  const said: string[] = []
  for (const pair of made) {
    const design = view.generic(view.option(pair.option))
    if (pair.withTierEffect0 !== null && pair.withTierEffect0.meanDifference > 0) {
      said.push(
        `Where the customer asks for proof that ${design} fails less: there is none from independent field data. If both failed alike it would be about ${view.gap(pair.withTierEffect0.meanDifference, pair.withTierEffect0.standardError)} dearer.`,
      )
    }
    if (pair.aheadFromYear !== null)
      said.push(`To someone who sells the house before year ${pair.aheadFromYear}, for ${design}.`)
    said.push(
      `Where the extra price for ${design} passes ${view.money(Math.max(0, pair.breakEvenPremium), pair.standardError)}.`,
    )
  }
  const shadeGiven = view.results.options.some(option => option.energy.designLossKwh.shadeAndMismatch > 0)
  if (!shadeGiven && view.results.options.some(tracksPanels))
    said.push('With a gain in harvest from tracking each panel: no shade was given for this roof, so none is counted.')
  const switching = view.results.switchPoints.filter(point => point.value !== null).slice(0, 1)
  for (const point of switching)
    said.push(
      `What would change this: ${withoutNames(
        view,
        switchSentence(view, point, option => `option ${option.id}`),
      )}`,
    )
  return said
}

/** Whether a design tracks panels one by one, and so may be sold on what that harvests. */
function tracksPanels(option: OptionResult): boolean {
  const topology = Object.values(TOPOLOGIES).find(candidate => candidate.key === option.topology)
  return topology !== undefined && topology.tracking !== 'string'
}

/** The words of a sentence with `option A` in place of the name that was typed, which may be a maker's. */
function withoutNames(view: View, sentence: string): string {
  const longestFirst = [...view.results.options].sort((a, b) => b.name.length - a.name.length)
  return longestFirst.reduce(
    (text, option) =>
      text
        .replaceAll(view.name(option), `option ${option.id}`)
        .replaceAll(plainName(option.name), `option ${option.id}`),
    sentence,
  )
}
