import { ReusableStream } from '../numerics/streams.ts'
import { delayYears, detectionAt, FATE } from './downtime.ts'
import { EventQueue } from './event-queue.ts'
import { drawFirstFailures, FirstFailures } from './first-failures.ts'
import type { History } from './history.ts'
import { Monitoring } from './monitoring.ts'
import { failSlot, openSlot, returnSlot, Slot } from './slot.ts'
import { stringOf, stringsOfUnits } from './strings.ts'
import type { OptionTruth, UnitTruth } from './unit-truth.ts'

// what an event of the queue is; the row that goes with it tells an event of a former failure from one of this
const FAILS = 0
const DETECTED = 1
/** The longest wait of the visit policy is over. */
const WAITED = 2
const RETURNS = 3
/** A visit arrives; belongs to no slot. */
const ARRIVES = 4

/** A slot whose unit, while it is down, may wait for others. */
class WaitingSlot extends Slot {
  /** When its failure will be detected if no visit comes first, years. */
  detectAt = Infinity
  detected = false
  /** Failed, and not yet in anybody's hands. */
  waits = false
  /** Spell of monitoring without this gateway, or −1. */
  spell = -1
}

/**
 * Plays one lifetime of an option whose units wait for each other: visit policies, planned replacement (O2, O3, M6).
 * One event after another in order of time.
 *
 * @param truth - the option
 * @param draw - number of the draw over the whole run
 * @param struck - by model: whether a bad batch struck it in this draw
 * @param history - appended to
 */
export function playTogether(truth: OptionTruth, draw: number, struck: readonly boolean[], history: History): void {
  lifetime.play(truth, draw, struck, history)
}

const NOTHING: OptionTruth = {
  horizonYears: 0,
  units: [],
  visitPolicy: null,
  monitoring: 'always',
  nUnits: 0,
  nGateways: 0,
  together: true,
}

/** One lifetime after another; the memory serves all of them. */
class Lifetime {
  #truth: OptionTruth = NOTHING
  readonly #queue = new EventQueue<WaitingSlot>()
  readonly #monitoring = new Monitoring()
  readonly #stream = new ReusableStream()
  readonly #firsts = new FirstFailures()
  readonly #slots: WaitingSlot[] = []
  #nSlots = 0
  /** Slots that are down and wait, in the order of their failures. */
  readonly #down: WaitingSlot[] = []
  /** Detected units on the list of the visit policy, oldest first (O3). */
  readonly #list: WaitingSlot[] = []
  /** Whether a visit has been called and has not arrived (O3). */
  #onItsWay = false

  play(truth: OptionTruth, draw: number, struck: readonly boolean[], history: History): void {
    const { units, monitoring, horizonYears } = truth
    this.#truth = truth
    this.#queue.clear()
    this.#down.length = 0
    this.#list.length = 0
    this.#nSlots = 0
    this.#onItsWay = false
    this.#monitoring.begin(monitoring, truth.nGateways)
    const firsts = this.#firsts
    for (const unit of units) {
      const planned = unit.replaceAtAgeYears - unit.ageYears < horizonYears
      const stream = this.#stream.open(unit.key, draw)
      drawFirstFailures(unit, draw, struck[unit.model] ?? false, horizonYears, planned, stream, firsts)
      if (firsts.n === 0) continue
      const strings = stringsOfUnits(unit, draw, firsts.n)
      for (let i = 0; i < firsts.n; i++) this.#expectFailure(this.#open(unit, draw, i, stringOf(strings, unit, i)))
    }
    const queue = this.#queue
    for (let next = queue.take(); next >= 0 && queue.at(next) < horizonYears; next = queue.take()) {
      this.#happen(history, queue.at(next), queue.kind(next), queue.slot(next), queue.row(next))
    }
  }

  #open(unit: UnitTruth, draw: number, first: number, string: number): WaitingSlot {
    const slot = this.#slots[this.#nSlots] ?? new WaitingSlot(unit)
    this.#slots[this.#nSlots++] = slot
    openSlot(unit, draw, this.#firsts, first, string, slot)
    slot.waits = false
    slot.spell = -1
    return slot
  }

  #happen(history: History, at: number, kind: number, slot: WaitingSlot | null, row: number): void {
    if (slot === null) {
      this.#arrive(history, at)
    } else if (kind === FAILS) {
      if (slot.nextIsPlanned) this.#replaceAsPlanned(history, at, slot)
      else this.#fail(history, at, slot)
    } else if (kind === DETECTED) {
      // an earlier detection, or a visit, may have come first
      if (slot.waits && slot.row === row && !slot.detected && slot.detectAt === at) this.#detect(history, at, slot)
    } else if (kind === WAITED) {
      if (!this.#onItsWay && this.#list[0] === slot && slot.row === row) this.#call(at, slot)
    } else {
      this.#return(history, at, slot)
    }
  }

  #expectFailure(slot: WaitingSlot): void {
    if (slot.nextAt < this.#truth.horizonYears) this.#queue.put(slot.nextAt, FAILS, slot, -1)
  }

  #fail(history: History, at: number, slot: WaitingSlot): void {
    const row = failSlot(history, slot)
    if (slot.unit.isGateway) slot.spell = this.#monitoring.gatewayDown(at, Infinity)
    slot.detectAt = detectionAt(slot.unit, slot.fate[FATE.detect] ?? 0, at, this.#monitoring.worksFrom(at))
    slot.detected = false
    slot.waits = true
    this.#down.push(slot)
    this.#queue.put(slot.detectAt, DETECTED, slot, row)
  }

  #detect(history: History, at: number, slot: WaitingSlot): void {
    slot.detected = true
    history.detectedAt[slot.row] = at
    const { unit, fate } = slot
    const policy = this.#truth.visitPolicy
    if (policy === null || !unit.needsVisit) {
      this.#takeInHand(slot)
      const returnAt =
        at + delayYears(unit.respond, fate[FATE.respond] ?? 0) + delayYears(unit.repair, fate[FATE.repair] ?? 0)
      if (unit.needsVisit) history.visit[slot.row] = history.addVisit(returnAt)
      this.#expectReturn(history, slot, returnAt)
      return
    }
    // a unit alone, and whatever stops a whole string, does not wait for others
    if (unit.count === 1 || history.takesString[slot.row] === 1) {
      if (!this.#onItsWay) this.#call(at, slot)
      return
    }
    this.#list.push(slot)
    if (this.#onItsWay) return
    if (this.#list.length >= policy.waitForUnits) this.#call(at, slot)
    else this.#queue.put(at + policy.waitAtMostYears, WAITED, slot, slot.row)
  }

  /** The visit comes one respond time of the unit that called it later (O3). */
  #call(at: number, caller: WaitingSlot): void {
    this.#onItsWay = true
    this.#queue.put(at + delayYears(caller.unit.respond, caller.fate[FATE.respond] ?? 0), ARRIVES, null, -1)
  }

  /** A visit repairs every unit then down, detected or not; all return after the longest repair (O3). */
  #arrive(history: History, at: number): void {
    this.#onItsWay = false
    this.#list.length = 0
    const slots = this.#down.filter(slot => slot.unit.needsVisit)
    let longest = 0
    for (const slot of slots) {
      if (!slot.detected) history.detectedAt[slot.row] = at
      slot.detected = true
      longest = Math.max(longest, delayYears(slot.unit.repair, slot.fate[FATE.repair] ?? 0))
    }
    this.#repairTogether(history, at + longest, slots)
  }

  #repairTogether(history: History, returnAt: number, slots: readonly WaitingSlot[]): void {
    if (slots.length === 0) return
    const visit = history.addVisit(returnAt)
    for (const slot of slots) {
      this.#takeInHand(slot)
      history.visit[slot.row] = visit
      this.#expectReturn(history, slot, returnAt)
    }
  }

  #takeInHand(slot: WaitingSlot): void {
    if (!slot.waits) return // planned: it never waited
    slot.waits = false
    this.#down.splice(this.#down.indexOf(slot), 1)
  }

  #expectReturn(history: History, slot: WaitingSlot, returnAt: number): void {
    history.returnedAt[slot.row] = returnAt
    this.#queue.put(returnAt, RETURNS, slot, slot.row)
  }

  /** Units due at one moment share a visit that returns after the longest repair (M6); those that need none return alone (O3). */
  #replaceAsPlanned(history: History, at: number, slot: WaitingSlot): void {
    const due = [slot]
    const queue = this.#queue
    for (let next = queue.peek(); next >= 0 && queue.at(next) === at; next = queue.peek()) {
      const other = queue.slot(next)
      if (queue.kind(next) !== FAILS || other === null || !other.nextIsPlanned) break
      queue.take()
      due.push(other)
    }
    const visited: WaitingSlot[] = []
    let longest = 0
    for (const one of due) {
      failSlot(history, one)
      if (one.unit.isGateway) one.spell = this.#monitoring.gatewayDown(at, Infinity)
      const repairYears = delayYears(one.unit.repair, one.fate[FATE.repair] ?? 0)
      if (one.unit.needsVisit) {
        visited.push(one)
        longest = Math.max(longest, repairYears)
      } else this.#expectReturn(history, one, at + repairYears)
    }
    this.#repairTogether(history, at + longest, visited)
  }

  #return(history: History, at: number, slot: WaitingSlot): void {
    returnSlot(history, slot, at)
    if (slot.spell >= 0) {
      this.#monitoring.gatewayBack(slot.spell, at)
      slot.spell = -1
      this.#lookAgain(history, at)
    }
    this.#expectFailure(slot)
  }

  /** Monitoring may work again: units that nobody saw fail are seen after the monitored time (O2). */
  #lookAgain(history: History, at: number): void {
    for (const slot of this.#down) {
      if (slot.detected || slot.unit.isGateway) continue
      const failedAt = history.failedAt[slot.row] ?? 0
      const detectAt = detectionAt(
        slot.unit,
        slot.fate[FATE.detect] ?? 0,
        failedAt,
        this.#monitoring.worksFrom(failedAt),
      )
      if (detectAt >= slot.detectAt) continue
      slot.detectAt = Math.max(detectAt, at)
      this.#queue.put(slot.detectAt, DETECTED, slot, slot.row)
    }
  }
}

const lifetime = new Lifetime()
