import type { SwitchPoint } from '../../analysis/results/what-if.ts'
import { switchSentence } from '../sections/what-would-change.ts'
import { sameReliabilitySentence } from '../verdicts.ts'
import type { View } from '../view.ts'

/** Switch points on the sheet; ours. */
const MOST_POINTS = 2

/**
 * What would change the answer: the nearest switch points (S2), the case without a gap between tiers (U1c), and what the
 * equipment is still worth at the end (C6).
 *
 * @param view - prepared results
 * @returns sentences
 */
export function wouldTurn(view: View): string[] {
  if (view.second === null) return []
  const switching = view.results.switchPoints.filter(point => point.value !== null).sort((a, b) => reach(a) - reach(b))
  const pair = view.comparison(view.best, view.second)
  const same = sameReliabilitySentence(view, pair === null ? [] : [pair])
  return [
    ...(switching.length === 0
      ? [`No single figure, within the range tried, puts ${view.name(view.second)} ahead of ${view.name(view.best)}.`]
      : switching.slice(0, MOST_POINTS).map(point => switchSentence(view, point))),
    ...(same === null ? [] : [same]),
    ...worthAtTheEnd(view),
  ]
}

/** The part of its range that a figure has to move. */
function reach({ value, present, low, high }: SwitchPoint): number {
  return Math.abs((value ?? high) - present) / Math.max(high - low, 1e-12)
}

function worthAtTheEnd(view: View): string[] {
  const first = [...view.results.options].sort((a, b) => a.withStraightLine.mean - b.withStraightLine.mean)[0]
  return first === undefined || first.id === view.best.id
    ? []
    : [`Counting what the equipment is still worth after ${view.horizon} puts ${view.name(first)} first.`]
}
