import { TooManyFailuresError } from '../errors.ts'
import { playAlone } from './alone.ts'
import type { History } from './history.ts'
import { playTogether } from './together.ts'
import type { OptionTruth, UnitTruth } from './unit-truth.ts'

/** Failures of each unit a year above which a scenario is taken for a slip. Ours: one a season. */
const MOST_PER_UNIT_YEAR = 4
/** Failures that any option may have beside these, so that chance alone never ends a run. */
const SPARE_FAILURES = 2000

/**
 * Plays some lifetimes of an option side by side (M, O): what fails when, who sees it, who comes, when it returns.
 * Gateways that wait for nobody come first, since they decide who sees the others; then what waits for visits, then the
 * rest.
 *
 * @param truth - the option in one parameter set
 * @param history - begun, with draws and starts; with the streams' keys they decide everything
 * @throws TooManyFailuresError where units fail every season, so that an absurd life does not play for hours
 */
export function playLanes(truth: OptionTruth, history: History): void {
  const mostOfOne = SPARE_FAILURES + MOST_PER_UNIT_YEAR * truth.horizonYears * truth.nUnits
  const most = history.n * mostOfOne
  const bound = (played: History): void => {
    const n = played.nRows
    if (n > most) throw new TooManyFailuresError(Math.round(n / played.n))
  }
  const together = truth.units.filter(unit => waitsForOthers(truth, unit))
  const alone = truth.units.filter(unit => !waitsForOthers(truth, unit))
  for (const unit of alone) if (unit.isGateway) playAlone(truth, unit, history, bound)
  if (together.length > 0) playTogether(truth, together, history, mostOfOne)
  for (const unit of alone) if (!unit.isGateway) playAlone(truth, unit, history, bound)
}

/** Whether a visit may repair a unit together with others: under a visit policy, or as planned (O3, M6). */
function waitsForOthers({ visitPolicy }: OptionTruth, unit: UnitTruth): boolean {
  return unit.needsVisit && (visitPolicy !== null || unit.replaceAtAgeYears !== Infinity)
}
