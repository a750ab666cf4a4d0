import type { Comparison } from '../../analysis/results/comparison.ts'
import { formatChance } from '../format/share.ts'
import { joinList, joinWords, plainInput } from '../names.ts'
import { KNOWN_WORDS } from './margin.ts'
import type { View } from './view.ts'

/**
 * The verdict with wider ranges (K4b), and what was not varied. With one option also how much rests on judgement; with more,
 * `staysCheaperSentence` says that.
 *
 * @param view - prepared results
 * @param pair - the comparison that the page is about; null with one option
 * @returns sentences
 */
export function howSure(view: View, pair: Comparison | null): string[] {
  return [...(pair === null ? judged(view) : wideSentences(pair)), notVaried(view)]
}

/**
 * What no parameter set varies (K4).
 *
 * @param view - prepared results
 */
export function notVaried(view: View): string {
  const fixed = (key: RegExp): boolean =>
    !view.results.inputs.some(input => key.test(input.key) && input.low !== null && input.high !== null)
  return `Not varied: ${joinWords([
    'warranty terms',
    'visit policy',
    'discount rate',
    ...(fixed(/shade|mismatch/) ? ['shade and mismatch'] : []),
    ...(fixed(/conversion/) ? ['conversion'] : []),
    ...(fixed(/self_consumed/) ? ['how much is used at home'] : []),
    'every other figure that is listed without a range',
  ])}.`
}

function judged(view: View): string[] {
  const share = view.best.variance.judgementShare
  if (share === null) return []
  return [
    `Of what is not known about the cost, ${formatChance(share, view.locale)} rests on judgement: figures that nobody has measured.`,
  ]
}

function wideSentences({ wideRun }: Comparison): string[] {
  if (wideRun === null) return []
  return wideRun.verdict === wideRun.ordinaryVerdict
    ? ['With the ranges of judged figures half as wide again, the verdict stays the same.']
    : [`With the ranges of judged figures half as wide again, the verdict becomes: ${wideRun.verdict}.`]
}

/** Figures named in one sentence; ours. */
const MOST_NAMED = 3

/**
 * Which single figures change the order of two options within the ranges that were varied (K4c).
 *
 * @param view - prepared results
 * @param pair - the comparison
 * @returns a sentence; none where nothing was varied or no verdict is given
 */
export function turnedBySentence(view: View, pair: Comparison): string[] {
  if (pair.verdict === null || view.results.parameterSets <= 1) return []
  const two = [pair.option, pair.against].sort().join(' and ')
  const { turnedBy } = pair
  if (turnedBy.length === 0)
    return [`Within the ranges that were varied, no single figure changes which of ${two} is cheaper.`]
  const named = turnedBy
    .slice(0, MOST_NAMED)
    .map(({ input, known }) => `${plainInput(input)} (${KNOWN_WORDS[known].toLowerCase()})`)
  const more = turnedBy.length - named.length
  const list = joinList(more > 0 ? [...named, `${more} more`] : named)
  return [
    `Within the range it was varied in, ${turnedBy.length === 1 ? 'one figure' : 'each of these'} alone changes which of ${two} is cheaper: ${list}.`,
  ]
}
