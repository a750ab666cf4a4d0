import type { OptionResult } from '../../analysis/results/option.ts'
import type { SwitchPoint } from '../../analysis/results/what-if.ts'
import { turnedBySentence } from '../estimate/how-sure.ts'
import { switchSentence, triedWords } from '../estimate/sections/switch-points.ts'
import { sameReliabilitySentence } from '../estimate/verdicts.ts'
import { bestPair, type View } from '../estimate/view.ts'

/** Switch points on the sheet, without and with the case of equal reliability on it; ours. */
const MOST_POINTS = 2
const FEWER_POINTS = 1

/**
 * What would change the answer: the nearest switch points (S2) and the figures that do it within their ranges (K4c), the
 * case without a gap between tiers (U1c), and what the equipment is still worth at the end (C6).
 *
 * @param view - prepared results
 * @returns sentences
 */
export function wouldTurn(view: View): string[] {
  const pair = bestPair(view)
  if (view.second === null || pair === null) return []
  const switching = view.results.switchPoints.filter(point => point.value !== null).sort((a, b) => reach(a) - reach(b))
  const within = turnedBySentence(view, pair)
  const same = sameReliabilitySentence(view, [pair])
  return [
    ...switching.slice(0, same === null ? MOST_POINTS : FEWER_POINTS).map(point => switchSentence(view, point)),
    // where no figure changes the order even in the wide range tried, a sentence on the narrow range would add nothing
    ...(switching.length > 0 || pair.turnedBy.length > 0 ? within : [nothingTurns(view, view.second)]),
    ...(same === null ? [] : [same]),
    ...worthAtTheEnd(view),
  ]
}

function nothingTurns(view: View, second: OptionResult): string {
  const tried = view.results.switchPoints.length === 0 ? '' : ` Tried: ${triedWords(view)}.`
  return `No single figure, within the range tried, puts ${view.name(second)} ahead of ${view.name(view.best)}.${tried}`
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
