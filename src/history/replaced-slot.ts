import { ReusableStream } from '../numerics/streams.ts'
import { delayYears, detectionAt, emptyFate, FATE, FATE_UNIFORMS } from './downtime.ts'
import type { History } from './history.ts'
import type { Monitoring } from './monitoring.ts'
import type { UnitTruth } from './unit-truth.ts'

// memory that serves slot after slot
const stream = new ReusableStream()
const fate = emptyFate()

/**
 * Plays a slot whose unit is replaced whenever it fails and waits for nobody: failure, detection, return, the next life
 * (M3, M5, O1, O2). What `Slot` does step by step for all rules, in one loop for the plainest and most frequent case; a
 * test holds the two against each other.
 *
 * @param unit - the population; replaced whenever it fails, not as planned
 * @param draw - number of the draw over the whole run
 * @param part - which stream of the draw is the slot's
 * @param firstAt - moment of the first failure, years
 * @param string - string of the slot or −1
 * @param horizonYears - years
 * @param monitoring - of the draw; null: it always works
 * @param history - appended to
 */
export function playReplacedSlot(
  unit: UnitTruth,
  draw: number,
  part: number,
  firstAt: number,
  string: number,
  horizonYears: number,
  monitoring: Monitoring | null,
  history: History,
): void {
  stream.open(unit.key, draw, part)
  let before = -1
  let fittedAt = 0
  let failedAt = firstAt
  while (failedAt < horizonYears) {
    stream.drawInto(fate, FATE_UNIFORMS)
    const row = history.addFailure(unit.place, before, failedAt, fittedAt)
    const seenFrom = monitoring === null ? failedAt : monitoring.worksFrom(failedAt)
    const detectedAt = detectionAt(unit, fate[FATE.detect] ?? 0, failedAt, seenFrom)
    const response = delayYears(unit.respond, fate[FATE.respond] ?? 0)
    const returnedAt = detectedAt + response + delayYears(unit.repair, fate[FATE.repair] ?? 0)
    history.claim[row] = fate[FATE.claim] ?? 0
    history.detectedAt[row] = detectedAt
    history.returnedAt[row] = returnedAt
    history.string[row] = string
    if (string >= 0 && (fate[FATE.string] ?? 0) < unit.takesStringDown) history.takesString[row] = 1
    if (unit.needsVisit) history.visit[row] = history.addVisit(returnedAt)
    before = row
    fittedAt = returnedAt
    // a new unit that outlives the horizon: when it fails is of no interest
    const further = (fate[FATE.exponential] ?? 0) / unit.multiplier
    if (returnedAt >= horizonYears || further > unit.hazardOfHorizon) return
    failedAt = returnedAt + unit.ages.at(further)
  }
}
