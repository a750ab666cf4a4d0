import type { Comparison } from '../analysis/results/comparison.ts'
import { formatShare } from './format/share.ts'
import { KNOWN_WORDS } from './margin.ts'
import type { View } from './view.ts'

/**
 * How much of the answer nobody has measured (K4), and what was not varied.
 *
 * @param view - prepared results
 * @returns sentences
 */
export function howSure(view: View): string[] {
  const pair = view.second === null ? null : view.comparison(view.best, view.second)
  return [...judged(view, pair), ...(pair === null ? [] : [...wideSentences(pair), gradeSentence(pair)]), NOT_VARIED]
}

/** What no parameter set moves (K4). */
export const NOT_VARIED =
  'Not varied: warranty terms, visit policy, discount rate, and every figure that is listed without a range.'

function judged(view: View, pair: Comparison | null): string[] {
  const share = pair?.varianceShares.judgementShare ?? view.best.variance.judgementShare
  if (share === null) return []
  const what = pair === null ? 'the cost' : 'the difference'
  return [
    `Of what is not known about ${what}, ${formatShare(share, view.locale)} rests on judgement: figures that nobody has measured.`,
  ]
}

function wideSentences({ wideRun }: Comparison): string[] {
  if (wideRun === null) return []
  return wideRun.verdict === wideRun.ordinaryVerdict
    ? ['With the ranges of judged figures half as wide again, the verdict stays the same.']
    : [`With the ranges of judged figures half as wide again, the verdict becomes: ${wideRun.verdict}.`]
}

function gradeSentence({ verdictGrade }: Comparison): string {
  return verdictGrade === null
    ? 'No single figure changes which of the two is cheaper within the range it was varied in.'
    : `One figure alone, within the range it was varied in, can change which of the two is cheaper; how well it is known: ${KNOWN_WORDS[verdictGrade].toLowerCase()}.`
}
