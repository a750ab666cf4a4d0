import { openStream } from '../numerics/streams.ts'
import { delayYears } from './delays.ts'
import { detectionAt } from './detection.ts'
import { EventQueue } from './event-queue.ts'
import { drawFirstFailures, type FirstFailure } from './first-failures.ts'
import type { History } from './history.ts'
import { Monitoring } from './monitoring.ts'
import { failSlot, openSlot, returnSlot, type Slot } from './slot.ts'
import { stringsOfUnits } from './strings.ts'
import type { OptionTruth } from './unit-truth.ts'

type Happening =
  | { readonly kind: 'fails'; readonly slot: Slot }
  | { readonly kind: 'detected' | 'waited'; readonly down: Down }
  | { readonly kind: 'arrives' }
  | { readonly kind: 'returns'; readonly slots: readonly Slot[] }

/** A failed unit that is not yet in anybody's hands. */
interface Down {
  readonly slot: Slot
  readonly row: number
  detectAt: number
  detected: boolean
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
  new Lifetime(truth, history).play(draw, struck)
}

class Lifetime {
  readonly #truth: OptionTruth
  readonly #history: History
  readonly #queue = new EventQueue<Happening>()
  readonly #monitoring = new Monitoring()
  readonly #spells = new Map<Slot, number>()
  readonly #down = new Map<Slot, Down>()
  /** Detected units on the list of the visit policy, oldest first (O3). */
  #list: Down[] = []
  /** Whether a visit has been called and has not arrived (O3). */
  #onItsWay = false

  constructor(truth: OptionTruth, history: History) {
    this.#truth = truth
    this.#history = history
  }

  play(draw: number, struck: readonly boolean[]): void {
    const { units, monitoring, horizonYears } = this.#truth
    this.#monitoring.begin(
      monitoring,
      units.reduce((sum, unit) => sum + (unit.isGateway ? unit.count : 0), 0),
    )
    const firsts: FirstFailure[] = []
    for (const unit of units) {
      const planned = unit.replaceAtAgeYears - unit.ageYears < horizonYears
      drawFirstFailures(unit, struck[unit.model] ?? false, horizonYears, planned, openStream(unit.key, draw), firsts)
      const strings = stringsOfUnits(unit, draw, firsts.length)
      firsts.forEach((first, i) => {
        this.#expectFailure(openSlot(unit, draw, first, strings[i] ?? -1))
      })
    }
    for (let next = this.#queue.take(); next !== undefined && next.at < horizonYears; next = this.#queue.take()) {
      this.#happen(next.at, next.what)
    }
  }

  #happen(at: number, what: Happening): void {
    switch (what.kind) {
      case 'fails':
        if (what.slot.nextIsPlanned) this.#replaceAsPlanned(at, what.slot)
        else this.#fail(at, what.slot)
        return
      case 'detected':
        // an earlier detection, or a visit, may have come first
        if (!what.down.detected && what.down.detectAt === at && this.#down.has(what.down.slot))
          this.#detect(at, what.down)
        return
      case 'waited':
        if (!this.#onItsWay && this.#list[0] === what.down) this.#call(at, what.down.slot)
        return
      case 'arrives':
        this.#arrive(at)
        return
      case 'returns':
        for (const slot of what.slots) this.#return(at, slot)
        return
      default:
        what satisfies never
    }
  }

  #expectFailure(slot: Slot): void {
    if (slot.nextAt < this.#truth.horizonYears) this.#queue.put(slot.nextAt, { kind: 'fails', slot })
  }

  #fail(at: number, slot: Slot): void {
    const row = failSlot(this.#history, slot)
    if (slot.unit.isGateway) this.#spells.set(slot, this.#monitoring.gatewayDown(at, Infinity))
    const monitoredFrom = slot.unit.isGateway ? at : this.#monitoring.worksFrom(at)
    const down: Down = { slot, row, detectAt: detectionAt(slot, at, monitoredFrom), detected: false }
    this.#down.set(slot, down)
    this.#queue.put(down.detectAt, { kind: 'detected', down })
  }

  #detect(at: number, down: Down): void {
    down.detected = true
    this.#history.detectedAt[down.row] = at
    const { unit, fate } = down.slot
    const policy = this.#truth.visitPolicy
    if (policy === null || !unit.needsVisit) {
      this.#down.delete(down.slot)
      const returnAt = at + delayYears(unit.respond, fate.respond) + delayYears(unit.repair, fate.repair)
      if (unit.needsVisit) this.#history.visit[down.row] = this.#history.addVisit(returnAt)
      this.#history.returnedAt[down.row] = returnAt
      this.#queue.put(returnAt, { kind: 'returns', slots: [down.slot] })
      return
    }
    if (unit.count === 1) {
      if (!this.#onItsWay) this.#call(at, down.slot)
      return
    }
    this.#list.push(down)
    if (this.#onItsWay) return
    if (this.#list.length >= policy.waitForUnits) this.#call(at, down.slot)
    else this.#queue.put(at + policy.waitAtMostYears, { kind: 'waited', down })
  }

  /** The visit comes one respond time of the unit that called it later (O3). */
  #call(at: number, caller: Slot): void {
    this.#onItsWay = true
    this.#queue.put(at + delayYears(caller.unit.respond, caller.fate.respond), { kind: 'arrives' })
  }

  /** A visit repairs every unit then down, detected or not; all return after the longest repair (O3). */
  #arrive(at: number): void {
    this.#onItsWay = false
    this.#list = []
    const slots: Slot[] = []
    let longest = 0
    for (const down of this.#down.values()) {
      if (!down.slot.unit.needsVisit) continue
      slots.push(down.slot)
      if (!down.detected) this.#history.detectedAt[down.row] = at
      down.detected = true
      longest = Math.max(longest, delayYears(down.slot.unit.repair, down.slot.fate.repair))
    }
    this.#repairTogether(at + longest, slots)
  }

  #repairTogether(returnAt: number, slots: readonly Slot[]): void {
    if (slots.length === 0) return
    const visit = this.#history.addVisit(returnAt)
    for (const slot of slots) {
      this.#down.delete(slot)
      this.#history.visit[slot.row] = visit
      this.#history.returnedAt[slot.row] = returnAt
    }
    this.#queue.put(returnAt, { kind: 'returns', slots })
  }

  /** Units due at one moment share a visit that returns after the longest repair (M6). */
  #replaceAsPlanned(at: number, slot: Slot): void {
    const due = [slot]
    for (let next = this.#queue.peek(); next !== undefined && next.at === at; next = this.#queue.peek()) {
      const what = next.what
      if (what.kind !== 'fails' || !what.slot.nextIsPlanned) break
      this.#queue.take()
      due.push(what.slot)
    }
    let longest = 0
    for (const one of due) {
      failSlot(this.#history, one)
      if (one.unit.isGateway) this.#spells.set(one, this.#monitoring.gatewayDown(at, Infinity))
      longest = Math.max(longest, delayYears(one.unit.repair, one.fate.repair))
    }
    this.#repairTogether(at + longest, due)
  }

  #return(at: number, slot: Slot): void {
    returnSlot(this.#history, slot, at)
    const spell = this.#spells.get(slot)
    if (spell !== undefined) {
      this.#spells.delete(slot)
      this.#monitoring.gatewayBack(spell, at)
      this.#lookAgain(at)
    }
    this.#expectFailure(slot)
  }

  /** Monitoring may work again: units that nobody saw fail are seen after the monitored time (O2). */
  #lookAgain(at: number): void {
    for (const down of this.#down.values()) {
      if (down.detected || down.slot.unit.isGateway) continue
      const failedAt = this.#history.failedAt[down.row] ?? 0
      const detectAt = detectionAt(down.slot, failedAt, this.#monitoring.worksFrom(failedAt))
      if (detectAt >= down.detectAt) continue
      down.detectAt = Math.max(detectAt, at)
      this.#queue.put(down.detectAt, { kind: 'detected', down })
    }
  }
}
