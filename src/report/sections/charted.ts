import type { OptionResult } from '../../analysis/results.ts'
import type { View } from '../view.ts'

// Ours: eight colours and patterns stay apart; a ninth line would not be found among them.
const MOST_LINES = 8
// Ours: one panel an option; four fit two printed pages.
const MOST_PANELS = 4

/**
 * The options that a chart of lines shows: the eight of lowest lifetime cost, in listed order.
 *
 * @param view - prepared results
 * @returns at most eight options
 */
export function charted(view: View): readonly OptionResult[] {
  return firstOf(view, MOST_LINES)
}

/**
 * The options that get a panel of their own: the four of lowest lifetime cost, in listed order.
 *
 * @param view - prepared results
 * @returns at most four options
 */
export function panelled(view: View): readonly OptionResult[] {
  return firstOf(view, MOST_PANELS)
}

/**
 * Says which options the picture leaves out.
 *
 * @param view - prepared results
 * @param most - how many the picture shows
 * @returns no line where all are shown
 */
export function chartedRemark(view: View, most: number = MOST_LINES): string[] {
  if (view.ranked.length <= most) return []
  return [`The picture shows the ${most} options of lowest lifetime cost; the table shows all.`]
}

function firstOf(view: View, most: number): readonly OptionResult[] {
  const shown = new Set(view.ranked.slice(0, most))
  return view.results.options.filter(option => shown.has(option))
}
