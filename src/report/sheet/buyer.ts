import { howSure } from '../estimate/how-sure.ts'
import { asideBox } from '../estimate/put-aside.ts'
import { bestPair, type View } from '../estimate/view.ts'
import type { SheetBox } from './content.ts'
import { toAsk } from './to-ask.ts'
import { wouldTurn } from './would-turn.ts'

/**
 * The boxes of the buyer's page: what to put aside, what would change the answer, how sure, what to ask.
 *
 * @param view - prepared results
 * @returns boxes with at least one point
 */
export function buyerBoxes(view: View): SheetBox[] {
  return [
    asideBox(view),
    { heading: 'What would change the answer', points: wouldTurn(view) },
    { heading: 'How sure this is', points: howSure(view, bestPair(view)) },
    { heading: 'Ask before you sign', points: toAsk(view) },
  ].filter(box => box.points.length > 0)
}
