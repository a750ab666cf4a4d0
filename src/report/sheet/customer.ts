import type { Comparison } from '../../analysis/results/comparison.ts'
import type { Table } from '../content.ts'
import { caseTables, dearerPairs } from '../estimate/case-table.ts'
import { howSure, turnedBySentence } from '../estimate/how-sure.ts'
import { sameReliabilitySentence } from '../estimate/verdicts.ts'
import { bestPair, type View } from '../estimate/view.ts'
import type { SheetBox } from './content.ts'
import { optionTables } from './option-table.ts'
import { toAsk } from './to-ask.ts'

/** Options up to which the sheet shows the case of every dearer one. Ours: what fits on a page. */
const MOST_OPTIONS = 4

/**
 * The dearer option that does best over its life, against the cheapest to buy.
 *
 * @param view - prepared results
 * @returns the pair; null where no option is dearer
 */
export function dearerPair(view: View): Comparison | null {
  return dearerPairs(view)[0] ?? null
}

/**
 * The case for the dearer options and against them, in money, visits, days, bills and cover; where that would leave an option
 * out, the table of all options.
 *
 * @param view - prepared results
 * @returns once for phones and once for all else
 */
export function customerTables(view: View): Table[] {
  const { options } = view.results
  const pairs = shownCases(view)
  return pairs.length + 1 === options.length
    ? caseTables(view, pairs, option => view.name(option), options.length >= MOST_OPTIONS)
    : optionTables(view)
}

/** With few options every dearer one; with more, only the one that does best over its life. */
function shownCases(view: View): Comparison[] {
  const pairs = dearerPairs(view)
  return view.results.options.length <= MOST_OPTIONS ? pairs : pairs.slice(0, 1)
}

/**
 * The boxes of the customer's page: what else decides between the dearer option and the cheapest; how sure; what to ask.
 *
 * @param view - prepared results
 * @returns boxes with at least one point
 */
export function customerBoxes(view: View): SheetBox[] {
  const pairs = shownCases(view)
  const [first = null] = pairs
  return [
    {
      heading: 'What else decides',
      points: [...pairs.slice(0, 2).flatMap(pair => visitAndSale(view, pair)), ...sameOf(view, pairs.slice(0, 1))],
    },
    {
      heading: 'How sure this is',
      points: [...howSure(view, first ?? bestPair(view)), ...(first === null ? [] : turnedBySentence(view, first))],
    },
    { heading: 'Ask before you sign', points: toAsk(view) },
  ].filter(box => box.points.length > 0)
}

function sameOf(view: View, pairs: readonly Comparison[]): string[] {
  const same = sameReliabilitySentence(view, pairs)
  return same === null ? [] : [same]
}

/** What one visit fewer costs, and when the extra price is won back. */
function visitAndSale(view: View, pair: Comparison): string[] {
  const [dear, cheap] = [view.option(pair.option), view.option(pair.against)]
  const name = view.name(dear)
  const sold =
    pair.aheadFromYear === null || pair.aheadFromYear === 0
      ? []
      : [`Whoever sells the house before year ${pair.aheadFromYear} has not won the extra price of ${name} back.`]
  const fewer = cheap.visits.mean - dear.visits.mean
  const error = Math.hypot(cheap.visits.standardError, dear.visits.standardError)
  if (pair.meanDifference <= 0 || fewer < 2 * error || fewer < 0.1) return sold
  const each = pair.meanDifference / fewer
  // of a ratio, the two errors taken as independent
  const eachError = each * Math.hypot(pair.standardError / pair.meanDifference, error / fewer)
  return [
    ...sold,
    `Each repair visit that ${name} saves costs about ${view.about(each, eachError)} \u00b1 ${view.about(eachError, eachError).replace(/^\S+\s/u, '')}: worth it only to someone who would rather pay than have the visit.`,
  ]
}
