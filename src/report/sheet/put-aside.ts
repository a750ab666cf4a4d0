import type { OptionResult } from '../../analysis/results.ts'
import { formatLifetimes } from '../format.ts'
import type { View } from '../view.ts'

/**
 * What to have ready and what to put aside (R2a), in one sentence.
 *
 * @param view - prepared results
 * @param option - whose bills
 * @returns a sentence
 */
export function asideSentence(view: View, option: OptionResult): string {
  const { contributionPerYear, confidence } = option.reserve
  if (contributionPerYear === 0)
    return `For ${view.name(option)} nothing has to be put aside in ${formatLifetimes(confidence)} lifetimes.`
  return `For ${view.name(option)}, put ${view.money(contributionPerYear, null)} a year aside: that pays every repair bill in ${formatLifetimes(confidence)} lifetimes.`
}
