import { playAlone } from './alone.ts'
import type { History } from './history.ts'
import { playTogether } from './together.ts'
import type { OptionTruth } from './unit-truth.ts'

/**
 * Plays one lifetime of an option (M, O): what fails when, who sees it, who comes, when it returns.
 *
 * @param truth - the option in one parameter set
 * @param draw - number of the draw over the whole run; with the streams' keys it decides everything
 * @param struck - by model: whether a bad batch struck it in this draw
 * @param history - cleared and filled
 */
export function playDraw(truth: OptionTruth, draw: number, struck: readonly boolean[], history: History): void {
  history.clear()
  const waits = truth.visitPolicy !== null || truth.units.some(unit => unit.replaceAtAgeYears !== Infinity)
  if (waits) playTogether(truth, draw, struck, history)
  else playAlone(truth, draw, struck, history)
}
