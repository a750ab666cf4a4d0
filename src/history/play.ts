import { playAlone } from './alone.ts'
import type { History } from './history.ts'
import { playTogether } from './together.ts'
import type { OptionTruth } from './unit-truth.ts'

/** Failures of each unit a year above which a scenario is taken for a slip. Ours: one a season. */
const MOST_PER_UNIT_YEAR = 4
/** Failures that any option may have beside these, so that chance alone never ends a run. */
const SPARE_FAILURES = 2000

/**
 * Plays one lifetime of an option (M, O): what fails when, who sees it, who comes, when it returns.
 *
 * @param truth - the option in one parameter set
 * @param draw - number of the draw over the whole run; with the streams' keys it decides everything
 * @param struck - by model: whether a bad batch struck it in this draw
 * @param history - appended to
 * @throws TooManyFailuresError where units fail every season, so that an absurd life does not play for hours
 */
export function playDraw(truth: OptionTruth, draw: number, struck: readonly boolean[], history: History): void {
  history.allow(SPARE_FAILURES + MOST_PER_UNIT_YEAR * truth.horizonYears * truth.nUnits)
  if (truth.together) playTogether(truth, draw, struck, history)
  else playAlone(truth, draw, struck, history)
}
