import { detect, drawNumbers, returnWithoutWaiting } from './downtime.ts'
import { appendFirstFailures } from './first-failures.ts'
import type { History } from './history.ts'
import { appendNextLives, settle } from './next-lives.ts'
import type { OptionParameters, UnitParameters } from './parameters.ts'

/**
 * Plays a population whose units wait for no visit, in all lifetimes at once: the first failures of all slots, then the
 * second ones, and so on, each rule one pass over the rows that are new (M1–M6, O1, O2).
 *
 * @param parameters - the option
 * @param unit - the population
 * @param history - appended to
 * @param bound - throws where there are too many rows, so that an absurd life does not run for hours
 */
export function playWithoutWaiting(
  parameters: OptionParameters,
  unit: UnitParameters,
  history: History,
  bound: (history: History) => void,
): void {
  const rows = history.rows[unit.place]
  const starts = history.starts[unit.place]
  if (rows === undefined || starts === undefined) return
  appendFirstFailures(unit, history, parameters.horizonYears)
  for (let from = 0; from < rows.n; ) {
    const to = rows.n
    drawNumbers(rows, from, to)
    settle(unit, rows, starts, from, to)
    detect(parameters, unit, history, from, to)
    returnWithoutWaiting(unit, rows, from, to)
    if (unit.isGateway) {
      for (let row = from; row < to; row++) {
        history.gaps.add(rows.lane[row] as number, rows.failedAt[row] as number, rows.returnedAt[row] as number)
      }
    }
    appendNextLives(unit, rows, from, to, parameters.horizonYears)
    bound(history)
    from = to
  }
}
