/**
 * The downtime of a failure (O1, O2): detection, response and repair, with and without monitoring, and the random
 * numbers that they read. Both ways of playing histories use this file.
 */
import type { History } from './history.ts'
import type { DelayParameters, OptionParameters, UnitParameters } from './parameters.ts'
import { DETECT, NUMBERS, PLANNED, REPAIR, RESPOND, type Rows } from './rows.ts'

/**
 * Draws the random numbers of some failures: always all of them and in this order, so that no rule changes the numbers
 * of another (K1).
 *
 * @param rows - of a population
 * @param from - first row
 * @param to - row after the last
 */
export function drawNumbers(rows: Rows, from: number, to: number): void {
  rows.streams.draw(from, to, rows.numbers, rows.exponential)
}

/**
 * A delay at a quantile (O1).
 *
 * @param delay - fixed or lognormal
 * @param quantile - (0, 1)
 * @returns years, >= 0
 */
export function delayYears(delay: DelayParameters, quantile: number): number {
  return delay.factors === null ? delay.medianYears : delay.medianYears * delay.factors.at(quantile)
}

/**
 * When some failures are detected if no visit for another reason comes first (O2): after the monitored time if
 * monitoring works, else at the earlier of the unmonitored time and the return of monitoring plus the monitored time,
 * both at the same quantile. A gateway's own fault is found after its own time; a planned replacement needs no
 * detection (M6).
 *
 * @param parameters - the option
 * @param unit - the population
 * @param history - holds its rows, and the gaps of monitoring
 * @param from - first row
 * @param to - row after the last
 */
export function detect(
  parameters: OptionParameters,
  unit: UnitParameters,
  history: History,
  from: number,
  to: number,
): void {
  const rows = history.rows[unit.place]
  if (rows === undefined) return
  if (parameters.monitoring === 'never' && !unit.isGateway) addDelay(unit.detectUnmonitored, rows, from, to)
  else addDelay(unit.detect, rows, from, to)
  if (seenByGateways(parameters, unit)) detectInGaps(parameters, unit, history, rows, from, to)
  if (unit.replaceAtAgeYears === Infinity) return
  for (let row = from; row < to; row++) {
    if (rows.action[row] === PLANNED) rows.detectedAt[row] = rows.failedAt[row] as number
  }
}

/**
 * Whether the detection of a unit depends on which gateways work when it fails (O2).
 *
 * @param parameters - the option
 * @param unit - the population
 */
export function seenByGateways({ monitoring }: OptionParameters, { isGateway }: UnitParameters): boolean {
  return monitoring === 'gateways' && !isGateway
}

function addDelay({ medianYears, factors }: DelayParameters, rows: Rows, from: number, to: number): void {
  const { failedAt, detectedAt, numbers } = rows
  if (factors === null) {
    for (let row = from; row < to; row++) detectedAt[row] = (failedAt[row] as number) + medianYears
    return
  }
  for (let row = from; row < to; row++) {
    detectedAt[row] = (failedAt[row] as number) + medianYears * factors.at(numbers[NUMBERS * row + DETECT] as number)
  }
}

/** Failures that fall while no gateway works. */
function detectInGaps(
  { nGateways }: OptionParameters,
  unit: UnitParameters,
  { gaps }: History,
  rows: Rows,
  from: number,
  to: number,
): void {
  for (let row = from; row < to; row++) {
    const failedAt = rows.failedAt[row] as number
    const seenFrom = gaps.worksFrom(rows.lane[row] as number, failedAt, nGateways)
    if (seenFrom === failedAt) continue
    const monitored = (rows.detectedAt[row] as number) - failedAt
    const unmonitored = failedAt + delayYears(unit.detectUnmonitored, rows.numbers[NUMBERS * row + DETECT] as number)
    rows.detectedAt[row] = Math.min(unmonitored, seenFrom + monitored)
  }
}

/**
 * When some failures are back if each has a visit of its own (O1): one response and one repair after detection;
 * a planned replacement after its repair (M6).
 *
 * @param unit - the population
 * @param rows - its rows, detected
 * @param from - first row
 * @param to - row after the last
 */
export function returnWithoutWaiting(unit: UnitParameters, rows: Rows, from: number, to: number): void {
  const { returnedAt, detectedAt, numbers, action } = rows
  const { factors, medianYears } = unit.respond
  if (factors === null) {
    for (let row = from; row < to; row++) returnedAt[row] = (detectedAt[row] as number) + medianYears
  } else {
    for (let row = from; row < to; row++) {
      returnedAt[row] =
        (detectedAt[row] as number) + medianYears * factors.at(numbers[NUMBERS * row + RESPOND] as number)
    }
  }
  if (unit.replaceAtAgeYears !== Infinity) {
    for (let row = from; row < to; row++) {
      if (action[row] === PLANNED) returnedAt[row] = detectedAt[row] as number
    }
  }
  if (unit.repair.factors === null) {
    for (let row = from; row < to; row++) returnedAt[row] = (returnedAt[row] as number) + unit.repair.medianYears
    return
  }
  for (let row = from; row < to; row++) {
    returnedAt[row] = (returnedAt[row] as number) + delayYears(unit.repair, numbers[NUMBERS * row + REPAIR] as number)
  }
}
