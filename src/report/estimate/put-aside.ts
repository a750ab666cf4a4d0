import type { OptionResult, TwoPartReserve } from '../../analysis/results/option.ts'
import { formatLifetimes } from '../format/share.ts'
import type { View } from './view.ts'

/**
 * What an owner puts aside for an option (R2a), the same words and figures on every page.
 *
 * @param view - prepared results
 * @param option - which
 * @returns a sentence
 */
export function asideSentence(view: View, option: OptionResult): string {
  const { ready, perYear, confidence } = option.reserve.twoPart
  const share = formatLifetimes(confidence)
  if (ready === 0 && perYear === 0) return `For ${view.name(option)} nothing has to be put aside in ${share} lifetimes.`
  return `For ${view.name(option)}, ${bothParts(view, option.reserve.twoPart)}: in ${share} lifetimes that pays every bill.`
}

/**
 * What to put aside for the options after the best; the answer has the best, and the heading what is the same for all.
 *
 * @param view - prepared results
 * @returns heading and one point an option, at most three
 */
export function asideBox(view: View): { readonly heading: string; readonly points: readonly string[] } {
  const share = formatLifetimes(view.best.reserve.twoPart.confidence)
  return {
    heading: `With another: to pay every bill in ${share} lifetimes`,
    points: view.ranked.slice(1, 4).map(option => {
      const { ready, perYear } = option.reserve.twoPart
      return `${view.name(option)}: ${ready === 0 && perYear === 0 ? 'nothing' : bothParts(view, option.reserve.twoPart)}.`
    }),
  }
}

/** Both parts, as a clause. */
export function bothParts(view: View, { ready, perYear }: TwoPartReserve): string {
  const yearly = `put aside ${view.money(perYear, null)} a year, ${view.money(perYear / 12, null)} a month`
  return ready === 0 ? yearly : `have ${view.money(ready, null)} ready at the start and ${yearly}`
}

/**
 * What is in no reserve although it may be paid (C8).
 *
 * @param view - prepared results
 * @returns a sentence; none where nothing may be bought later
 */
export function notInReserve(view: View): string[] {
  const names = [...new Set(view.results.options.flatMap(({ laterPurchases }) => laterPurchases))]
  return names.length === 0 ? [] : [`What may be bought later (${names.join(', ')}) is not counted in that.`]
}
