import type { OptionResult } from '../../../analysis/results/option.ts'
import type { View } from '../view.ts'

// Ours: there are eight colours and patterns; more lines would be hard to follow.
const MOST_LINES = 8

/** How many options get a panel of their own. Ours: the two that one chooses between; more would fill pages. */
export const MOST_PANELS = 2

/**
 * The options that a chart of lines shows: the eight of lowest lifetime cost, in listed order.
 *
 * @param view - prepared results
 * @returns at most eight options
 */
export function charted(view: View): readonly OptionResult[] {
  const shown = new Set(view.ranked.slice(0, MOST_LINES))
  return view.results.options.filter(option => shown.has(option))
}

/**
 * The options that get a panel of their own: the two of lowest lifetime cost, lowest first.
 *
 * @param view - prepared results
 * @returns at most two options
 */
export function panelled(view: View): readonly OptionResult[] {
  return view.ranked.slice(0, MOST_PANELS)
}

/**
 * Says which options the picture leaves out.
 *
 * @param view - prepared results
 * @param most - how many the picture shows
 * @param where - where the others are to be found
 * @returns no line where all are shown
 */
export function chartedRemark(view: View, most: number = MOST_LINES, where = 'the table shows all'): string[] {
  if (view.ranked.length <= most) return []
  return [`The picture shows the ${most} options of lowest lifetime cost; ${where}.`]
}

/**
 * Years that a table shows when all would be too many: the first, every fifth.
 *
 * @param horizonYears - years, >= 1
 * @returns years counted from 1, rising, the last one included
 */
export function tableYears(horizonYears: number): number[] {
  return Array.from({ length: horizonYears }, (_, index) => index + 1).filter(
    year => year === 1 || year % 5 === 0 || year === horizonYears,
  )
}
