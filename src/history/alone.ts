import { ReusableStream } from '../numerics/streams.ts'
import { delayYears, detectionAt, FATE } from './downtime.ts'
import { drawFirstFailures, FirstFailures, partOf } from './first-failures.ts'
import type { History } from './history.ts'
import { Monitoring } from './monitoring.ts'
import { playReplacedSlot } from './replaced-slot.ts'
import { failSlot, openSlot, returnSlot, Slot } from './slot.ts'
import { stringOf, stringsOfUnits } from './strings.ts'
import type { OptionTruth, UnitTruth } from './unit-truth.ts'

// memory that serves draw after draw
const firsts = new FirstFailures()
const monitoring = new Monitoring()
const stream = new ReusableStream()
let memory: Slot | null = null

/**
 * Plays one lifetime of an option whose failures have a visit each and know of each other only through the gateways:
 * slot after slot, gateways first (O1, O2, O3). The quick way; `playTogether` gives the same histories.
 *
 * @param truth - the option; without visit policy and planned replacement
 * @param draw - number of the draw over the whole run
 * @param struck - by model: whether a bad batch struck it in this draw
 * @param history - appended to
 */
export function playAlone(truth: OptionTruth, draw: number, struck: readonly boolean[], history: History): void {
  monitoring.begin(truth.monitoring, truth.nGateways)
  if (truth.nGateways > 0) {
    for (const unit of truth.units) if (unit.isGateway) playPopulation(truth, unit, draw, struck, history)
  }
  for (const unit of truth.units) if (!unit.isGateway) playPopulation(truth, unit, draw, struck, history)
}

function playPopulation(
  truth: OptionTruth,
  unit: UnitTruth,
  draw: number,
  struck: readonly boolean[],
  history: History,
): void {
  drawFirstFailures(
    unit,
    draw,
    struck[unit.model] ?? false,
    truth.horizonYears,
    false,
    stream.open(unit.key, draw),
    firsts,
  )
  if (firsts.n === 0) return
  const strings = stringsOfUnits(unit, draw, firsts.n)
  const replaced = unit.repairRule === null && !unit.isGateway
  const seen = truth.monitoring === 'always' ? null : monitoring
  memory ??= new Slot(unit)
  for (let i = 0; i < firsts.n; i++) {
    const string = stringOf(strings, unit, i)
    if (replaced) {
      const at = firsts.at[i] ?? Infinity
      playReplacedSlot(unit, draw, partOf(firsts, i), at, string, truth.horizonYears, seen, history)
    } else {
      openSlot(unit, draw, firsts, i, string, memory)
      playSlot(truth, memory, history)
    }
  }
}

function playSlot(truth: OptionTruth, slot: Slot, history: History): void {
  const { unit, fate } = slot
  while (slot.nextAt < truth.horizonYears) {
    const failedAt = slot.nextAt
    const row = failSlot(history, slot)
    const detectedAt = detectionAt(unit, fate[FATE.detect] ?? 0, failedAt, monitoring.worksFrom(failedAt))
    const returnedAt =
      detectedAt + delayYears(unit.respond, fate[FATE.respond] ?? 0) + delayYears(unit.repair, fate[FATE.repair] ?? 0)
    history.detectedAt[row] = detectedAt
    if (unit.needsVisit) history.visit[row] = history.addVisit(returnedAt)
    if (unit.isGateway) monitoring.gatewayDown(failedAt, returnedAt)
    returnSlot(history, slot, returnedAt)
  }
}
