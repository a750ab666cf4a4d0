import { type CuredModes, cumulativeHazard, modeAtFailure } from '../numerics/lifetime.ts'
import { ReusableStream } from '../numerics/streams.ts'
import { emptyFate, FATE, FATE_UNIFORMS } from './downtime.ts'
import { type FirstFailures, partOf } from './first-failures.ts'
import { type History, PLANNED, REPAIRED } from './history.ts'
import type { UnitTruth } from './unit-truth.ts'

/** The place a unit fills, with the unit that is in it now. Its memory serves one slot after another: see `openSlot`. */
export class Slot {
  unit: UnitTruth
  readonly stream = new ReusableStream()
  /** Of the latest failure. */
  readonly fate = emptyFate()
  /** String of the slot (optimisers), or −1. */
  string = -1
  /** When the present unit was fitted, years. */
  fittedAt = 0
  /** Start of the present stretch of service, years, and the unit's virtual age and age in service then. */
  startedAt = 0
  virtualAge = 0
  serviceAge = 0
  /** Factor on the life of the present unit (M4): that of the batch that hit it, else 1. */
  lifeTimes = 1
  cured: CuredModes = 0
  repairs = 0
  /** Latest row of the history, or −1. */
  row = -1
  /** Next failure or planned replacement, years, and which. */
  nextAt = Infinity
  nextIsPlanned = false

  /** @param unit - the population of its first use */
  constructor(unit: UnitTruth) {
    this.unit = unit
  }
}

/**
 * A slot with its original unit, up to its first failure.
 *
 * @param unit - the population
 * @param draw - number of the draw over the whole run
 * @param firsts - from `drawFirstFailures`
 * @param i - which of them
 * @param string - string of the slot or −1
 * @param slot - memory to use; what was in it is lost
 */
export function openSlot(
  unit: UnitTruth,
  draw: number,
  firsts: FirstFailures,
  i: number,
  string: number,
  slot: Slot,
): void {
  const hit = firsts.hit[i] === 1
  slot.unit = unit
  slot.stream.open(unit.key, draw, partOf(firsts, i))
  slot.string = string
  slot.fittedAt = 0
  slot.startedAt = 0
  slot.virtualAge = unit.ageYears
  slot.serviceAge = unit.ageYears
  slot.lifeTimes = hit ? (unit.batch?.lifeTimes ?? 1) : 1
  slot.cured = 0
  slot.repairs = 0
  slot.row = -1
  slot.nextAt = firsts.at[i] ?? Infinity
  slot.nextIsPlanned = false
  planAhead(slot)
}

/**
 * Writes the row of the slot's next event and draws its fate.
 *
 * @param history - appended to
 * @param slot - its `nextAt` is the moment
 * @returns the row
 */
export function failSlot(history: History, slot: Slot): number {
  const { unit, fate, stream } = slot
  stream.drawInto(fate, FATE_UNIFORMS)
  const row = history.addFailure(unit.place, slot.row, slot.nextAt, slot.fittedAt)
  history.claim[row] = fate[FATE.claim] ?? 0
  history.string[row] = slot.string
  slot.row = row
  if (slot.nextIsPlanned) {
    history.action[row] = PLANNED
    history.detectedAt[row] = slot.nextAt
    return row
  }
  if (slot.string >= 0 && (fate[FATE.string] ?? 0) < unit.takesStringDown) history.takesString[row] = 1
  const rule = unit.repairRule
  if (rule !== null && slot.repairs < rule.atMost) {
    const age = slot.virtualAge + slot.nextAt - slot.startedAt
    const mode =
      unit.modes.length === 1 ? 0 : modeAtFailure(unit.modes, age / slot.lifeTimes, slot.cured, fate[FATE.mode] ?? 0)
    history.action[row] = REPAIRED
    history.mode[row] = mode
    history.ageAfter[row] = (1 - rule.renews) * age
    const limited = (unit.modes[mode]?.susceptible ?? 1) < 1
    history.curedAfter[row] = limited ? slot.cured | (1 << mode) : slot.cured
  }
  return row
}

/**
 * Puts the unit of the slot's latest row back into service and finds its next failure (M3, M5, M6).
 *
 * @param history - holds the row
 * @param slot - down
 * @param at - moment of the return, years
 */
export function returnSlot(history: History, slot: Slot, at: number): void {
  const row = slot.row
  history.returnedAt[row] = at
  if (history.action[row] === REPAIRED) {
    slot.serviceAge += slot.nextAt - slot.startedAt
    slot.virtualAge = history.ageAfter[row] ?? 0
    slot.cured = history.curedAfter[row] ?? 0
    slot.repairs++
  } else {
    slot.serviceAge = 0
    slot.virtualAge = 0
    slot.cured = 0
    slot.repairs = 0
    slot.lifeTimes = 1
    slot.fittedAt = at
  }
  slot.startedAt = at
  const { unit, lifeTimes, virtualAge, cured } = slot
  const further = (slot.fate[FATE.exponential] ?? 0) / unit.multiplier
  if (virtualAge === 0 && cured === 0 && lifeTimes === 1) {
    // a new unit that outlives the horizon: when it fails is of no interest
    slot.nextAt = further > unit.hazardOfHorizon ? Infinity : at + unit.ages.at(further)
  } else {
    const start = cumulativeHazard(unit.modes, virtualAge / lifeTimes, cured)
    slot.nextAt = at + Math.max(lifeTimes * unit.ages.at(start + further, cured) - virtualAge, 0)
  }
  slot.nextIsPlanned = false
  planAhead(slot)
}

/** M6: a unit that reaches its planned age before it fails is replaced then. */
function planAhead(slot: Slot): void {
  const planAt = slot.startedAt + Math.max(slot.unit.replaceAtAgeYears - slot.serviceAge, 0)
  if (planAt <= slot.nextAt && planAt !== Infinity) {
    slot.nextAt = planAt
    slot.nextIsPlanned = true
  }
}
