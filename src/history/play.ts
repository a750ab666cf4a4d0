import { TooManyFailuresError } from '../errors.ts'
import type { History } from './history.ts'
import type { OptionParameters, UnitParameters } from './parameters.ts'
import { playWithWaiting } from './with-waiting.ts'
import { playWithoutWaiting } from './without-waiting.ts'

/** Failures of each unit a year above which a scenario is taken for a typing error. Ours: one a season. */
const MOST_PER_UNIT_YEAR = 4
/** Failures that any option may have in addition, so that chance alone never ends a run. */
const SPARE_FAILURES = 2000

/**
 * Plays some lifetimes of an option side by side (M, O): what fails when, when it is detected, which visit repairs it, when it returns.
 * Gateways that wait for no visit come first, since they decide when the others are detected; then units that wait for
 * visits, then the rest.
 *
 * @param parameters - the option in one parameter set
 * @param history - begun, with draws and starts filled in; they and the keys of the streams decide everything
 * @throws TooManyFailuresError where units fail every season, so that an absurd life does not run for hours
 */
export function playLanes(parameters: OptionParameters, history: History): void {
  const mostOfOne = SPARE_FAILURES + MOST_PER_UNIT_YEAR * parameters.horizonYears * parameters.nUnits
  const most = history.n * mostOfOne
  const bound = (played: History): void => {
    const n = played.nRows
    if (n > most) throw new TooManyFailuresError(Math.round(n / played.n))
  }
  const waiting = parameters.units.filter(unit => waitsForOthers(parameters, unit))
  const others = parameters.units.filter(unit => !waitsForOthers(parameters, unit))
  for (const unit of others) if (unit.isGateway) playWithoutWaiting(parameters, unit, history, bound)
  if (waiting.length > 0) playWithWaiting(parameters, waiting, history, mostOfOne)
  for (const unit of others) if (!unit.isGateway) playWithoutWaiting(parameters, unit, history, bound)
}

/** Whether a visit may repair a unit together with others: under a visit policy, or as planned (O3, M6). */
function waitsForOthers({ visitPolicy }: OptionParameters, unit: UnitParameters): boolean {
  return unit.needsVisit && (visitPolicy !== null || unit.replaceAtAgeYears !== Infinity)
}
