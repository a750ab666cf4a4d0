/**
 * One lifetime of one option, event by event (M1–M8, O1–O3): the rules of chance written to be read, one object a
 * failure, no memory reused, no table. It reads the same random streams as the program, so that the two can be
 * compared failure by failure.
 */
import type { DelayParameters, OptionParameters, UnitParameters } from '../../src/history/parameters.ts'
import { ageAtHazard, cumulativeHazard, modeAtFailure } from '../../src/numerics/lives/competing-risks.ts'
import { openStream, type Stream } from '../../src/numerics/random/streams.ts'
import { normalQuantile } from '../../src/numerics/special.ts'

/** One failure, or one planned replacement, of one unit. */
export interface Failure {
  readonly unit: UnitParameters
  /** The failure before it in the same slot. */
  readonly before: Failure | null
  readonly planned: boolean
  readonly failedAt: number
  readonly fittedAt: number
  /** Uniform number for the claim (W4). */
  readonly claim: number
  detectedAt: number
  returnedAt: number
  /** What was done: the unit was repaired, else replaced (M3). */
  repaired: boolean
  /** Virtual age and modes that can no longer fail, once the unit is back (M3). */
  ageAfter: number
  curedAfter: number
  readonly string: number
  readonly takesStringDown: boolean
  /** The call-out that repairs it; null: it needs none, or none comes before the horizon. */
  visit: Visit | null
}

/** One call-out. */
export interface Visit {
  readonly returnedAt: number
  readonly failures: Failure[]
}

/** Numbers of one failure, always all drawn and in this order (K1). */
interface Fate {
  readonly claim: number
  readonly detect: number
  readonly respond: number
  readonly repair: number
  readonly mode: number
  readonly string: number
  readonly exponential: number
}

/** A place that units fill one after another, and the unit that is in it now. */
interface Slot {
  readonly unit: UnitParameters
  readonly stream: Stream
  readonly string: number
  fittedAt: number
  /** Start of the present stretch of service, with the virtual age and the age in service then. */
  startedAt: number
  virtualAge: number
  serviceAge: number
  /** Factor on the life of the present unit (M4). */
  lifeTimes: number
  cured: number
  repairs: number
  last: Failure | null
  nextAt: number
  nextIsPlanned: boolean
  /** While the unit is down: what is done to it, when it is or was detected, whether its repair is under way. */
  fate: Fate | null
  detectAt: number
  detected: boolean
  inHand: boolean
  returnAt: number
}

/**
 * Plays one lifetime.
 *
 * @param parameters - the option in one parameter set
 * @param draw - number of the draw
 * @param struck - by model: whether a bad batch struck it
 */
export function playReference(parameters: OptionParameters, draw: number, struck: readonly boolean[]): Failure[] {
  return new Lifetime(parameters).play(draw, struck)
}

class Lifetime {
  readonly #parameters: OptionParameters
  #slots: Slot[] = []
  readonly #failures: Failure[] = []
  /** Units on the list of the visit policy, oldest first, with the moment of their detection (O3). */
  #list: { readonly slot: Slot; readonly since: number }[] = []
  #arrival = Infinity

  constructor(parameters: OptionParameters) {
    this.#parameters = parameters
  }

  play(draw: number, struck: readonly boolean[]): Failure[] {
    const { units, horizonYears } = this.#parameters
    this.#slots = units.flatMap(unit => firstUnits(unit, draw, struck[unit.model] ?? false, horizonYears))
    for (const slot of this.#slots) planAhead(slot)
    for (;;) {
      const at = this.#nextMoment()
      if (!(at < horizonYears)) return this.#failures
      this.#happen(at)
    }
  }

  /** When anything happens next. */
  #nextMoment(): number {
    let at = Math.min(this.#arrival, this.#deadline())
    for (const slot of this.#slots) {
      at = Math.min(at, isDown(slot) ? Math.min(slot.returnAt, waits(slot) ? slot.detectAt : Infinity) : slot.nextAt)
    }
    return at
  }

  /** When the oldest entry of the list has waited as long as it may (O3). */
  #deadline(): number {
    const { visitPolicy } = this.#parameters
    const [oldest] = this.#list
    if (visitPolicy === null || oldest === undefined || this.#arrival !== Infinity) return Infinity
    return oldest.since + visitPolicy.waitAtMostYears
  }

  /** What happens at a moment; units come back first, so that a gateway that returns is seen by all. */
  #happen(at: number): void {
    for (const slot of this.#slots) if (isDown(slot) && slot.returnAt === at) putBack(slot, at)
    const due = this.#slots.filter(slot => !isDown(slot) && slot.nextIsPlanned && slot.nextAt === at)
    if (due.length > 0) this.#replaceAsPlanned(due, at)
    for (const slot of this.#slots) if (!isDown(slot) && slot.nextAt === at) this.#fail(slot, at)
    if (this.#arrival === at) this.#arrive(at)
    for (const slot of this.#slots) if (waits(slot) && slot.detectAt === at) this.#detect(slot, at)
    const [oldest] = this.#list
    if (oldest !== undefined && this.#deadline() === at) this.#call(oldest.slot, at)
  }

  #fail(slot: Slot, at: number): void {
    this.#failures.push(enterFailure(slot, at))
    slot.inHand = false
    slot.detected = false
    slot.returnAt = Infinity
    slot.detectAt = this.#detection(slot, at)
    if (slot.unit.isGateway) this.#lookAgain()
  }

  /** O2: after the monitored time if monitoring works; else when it is missed, or that time after monitoring is back. */
  #detection(slot: Slot, failedAt: number): number {
    const { unit, fate } = slot
    const quantile = fate?.detect ?? 0.5
    const monitored = delay(unit.detect, quantile)
    if (unit.isGateway) return failedAt + monitored
    const from = this.#monitoredFrom(failedAt)
    if (from === failedAt) return failedAt + monitored
    return Math.min(failedAt + delay(unit.detectUnmonitored, quantile), from + monitored)
  }

  /** The failure itself where monitoring works then, else the moment it works again, if that is known. */
  #monitoredFrom(at: number): number {
    const { monitoring, nGateways } = this.#parameters
    if (monitoring === 'always') return at
    if (monitoring === 'never') return Infinity
    const down = this.#failures.filter(
      ({ unit, failedAt, returnedAt }) => unit.isGateway && failedAt <= at && at < returnedAt,
    )
    return down.length < nGateways ? at : Math.min(...down.map(({ returnedAt }) => returnedAt))
  }

  /** Once it is known when a gateway returns, units that nobody saw fail may be seen sooner (O2). */
  #lookAgain(): void {
    for (const slot of this.#slots) {
      if (!waits(slot) || slot.detected || slot.last === null) continue
      slot.detectAt = Math.min(slot.detectAt, this.#detection(slot, slot.last.failedAt))
    }
  }

  #detect(slot: Slot, at: number): void {
    const { unit, fate, last } = slot
    if (last === null || fate === null) return
    slot.detected = true
    slot.detectAt = Infinity
    last.detectedAt = at
    const { visitPolicy } = this.#parameters
    if (visitPolicy === null || !unit.needsVisit) {
      const returnAt = at + delay(unit.respond, fate.respond) + delay(unit.repair, fate.repair)
      if (unit.needsVisit) visitOf([slot], returnAt)
      this.#return(slot, returnAt)
      return
    }
    if (unit.count === 1 || last.takesStringDown) {
      if (this.#arrival === Infinity) this.#call(slot, at)
      return
    }
    this.#list.push({ slot, since: at })
    if (this.#arrival === Infinity && this.#list.length >= visitPolicy.waitForUnits) this.#call(slot, at)
  }

  /** The visit comes one response of the unit that called it later (O3). */
  #call(caller: Slot, at: number): void {
    this.#arrival = at + delay(caller.unit.respond, caller.fate?.respond ?? 0.5)
  }

  /** A visit repairs every unit then down, detected or not; all return after the longest repair (O3). */
  #arrive(at: number): void {
    this.#arrival = Infinity
    this.#list = []
    const slots = this.#slots.filter(slot => waits(slot) && slot.unit.needsVisit)
    for (const { detected, last } of slots) if (!detected && last !== null) last.detectedAt = at
    this.#repairTogether(slots, at)
  }

  #repairTogether(slots: readonly Slot[], at: number): void {
    const returnAt = at + Math.max(0, ...slots.map(({ unit, fate }) => delay(unit.repair, fate?.repair ?? 0.5)))
    visitOf(slots, returnAt)
    for (const slot of slots) this.#return(slot, returnAt)
  }

  #return(slot: Slot, returnAt: number): void {
    slot.inHand = true
    slot.detectAt = Infinity
    slot.returnAt = returnAt
    if (slot.last !== null) slot.last.returnedAt = returnAt
    if (slot.unit.isGateway) this.#lookAgain()
  }

  /** Units due at one moment share a visit; those that need none return alone (M6). */
  #replaceAsPlanned(due: readonly Slot[], at: number): void {
    for (const slot of due) this.#failures.push(enterFailure(slot, at))
    this.#repairTogether(
      due.filter(({ unit }) => unit.needsVisit),
      at,
    )
    for (const slot of due)
      if (!slot.unit.needsVisit) this.#return(slot, at + delay(slot.unit.repair, slot.fate?.repair ?? 0.5))
  }
}

function isDown(slot: Slot): boolean {
  return slot.fate !== null
}

/** Down, and its repair is not under way. */
function waits(slot: Slot): boolean {
  return isDown(slot) && !slot.inHand
}

/** Writes down the next event of a slot, which is then down. */
function enterFailure(slot: Slot, at: number): Failure {
  const { unit } = slot
  const fate = drawFate(slot.stream)
  const planned = slot.nextIsPlanned
  const age = slot.virtualAge + at - slot.startedAt
  const rule = planned ? null : unit.repairRule
  const repaired = rule !== null && slot.repairs < rule.atMost
  const failure: Failure = {
    unit,
    before: slot.last,
    planned,
    failedAt: at,
    fittedAt: slot.fittedAt,
    claim: fate.claim,
    detectedAt: planned ? at : Infinity,
    returnedAt: Infinity,
    repaired,
    ageAfter: repaired ? (1 - rule.renews) * age : 0,
    curedAfter: repaired ? slot.cured : 0,
    string: slot.string,
    takesStringDown: !planned && slot.string >= 0 && fate.string < unit.takesStringDown,
    visit: null,
  }
  if (repaired) {
    const mode = modeAtFailure(unit.modes, age / slot.lifeTimes, slot.cured, fate.mode)
    if ((unit.modes[mode]?.susceptible ?? 1) < 1) failure.curedAfter |= 1 << mode
  }
  slot.fate = fate
  slot.last = failure
  slot.nextAt = Infinity
  return failure
}

/** M3, M5: what the unit of the slot is like when it is back, and when it fails next. */
function putBack(slot: Slot, at: number): void {
  const { unit, last, fate } = slot
  if (last === null || fate === null) return
  if (last.repaired) {
    slot.serviceAge += last.failedAt - slot.startedAt
    slot.virtualAge = last.ageAfter
    slot.cured = last.curedAfter
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
  const { virtualAge, lifeTimes, cured } = slot
  const lived = cumulativeHazard(unit.modes, virtualAge / lifeTimes, cured)
  const age = lifeTimes * ageAtHazard(unit.modes, lived + fate.exponential / unit.multiplier, cured)
  slot.nextAt = at + Math.max(age - virtualAge, 0)
  slot.nextIsPlanned = false
  slot.fate = null
  planAhead(slot)
}

/** M6: a unit that reaches its planned age before it fails is replaced then. */
function planAhead(slot: Slot): void {
  const planAt = slot.startedAt + Math.max(slot.unit.replaceAtAgeYears - slot.serviceAge, 0)
  if (planAt > slot.nextAt || planAt === Infinity) return
  slot.nextAt = planAt
  slot.nextIsPlanned = true
}

function visitOf(slots: readonly Slot[], returnedAt: number): void {
  const visit: Visit = { returnedAt, failures: slots.flatMap(({ last }) => last ?? []) }
  for (const failure of visit.failures) failure.visit = visit
}

function drawFate(stream: Stream): Fate {
  const claim = stream.coarse()
  const detect = stream.coarse()
  const respond = stream.coarse()
  const repair = stream.coarse()
  const mode = stream.coarse()
  const string = stream.coarse()
  return { claim, detect, respond, repair, mode, string, exponential: stream.exponential() }
}

/** A delay at a quantile (O1): a lognormal of given median. */
function delay({ medianYears, factors }: DelayParameters, quantile: number): number {
  return factors === null ? medianYears : medianYears * Math.exp(factors.sigma * normalQuantile(quantile))
}

/**
 * The original units that fail before the horizon, or all where they are replaced as planned (M1, M2, M4): those that a
 * bad batch hit first, each group soonest first. The k-th of n exponentials is the one before it plus Exp/(n−k+1).
 */
function firstUnits(unit: UnitParameters, draw: number, struck: boolean, horizonYears: number): Slot[] {
  const stream = openStream(unit.key, draw)
  const batch = struck ? unit.batch : null
  const hits = batch === null ? 0 : countHits(unit.count, hitShare(unit, batch), stream)
  let lead = unit.even === null ? stream.uniform() : unit.even.at(draw)
  const everyUnit = unit.replaceAtAgeYears - unit.ageYears < horizonYears
  const first: { nextAt: number; lifeTimes: number; part: number }[] = []
  for (const [count, lifeTimes, hit] of [
    [hits, batch?.lifeTimes ?? 1, 1],
    [unit.count - hits, 1, 0],
  ] as const) {
    if (count === 0) continue
    const lived = cumulativeHazard(unit.modes, unit.ageYears / lifeTimes)
    let exponential = -Math.log(lead) / count
    for (let rank = 0; rank < count; rank++) {
      if (rank > 0 && exponential !== Infinity) exponential += stream.exponential() / (count - rank)
      const age = lifeTimes * ageAtHazard(unit.modes, lived + exponential / unit.multiplier)
      const failsAt = Math.max(age - unit.ageYears, 0)
      // once one of the group outlives the horizon, so do those after it
      if (failsAt >= horizonYears) exponential = Infinity
      if (failsAt >= horizonYears && !everyUnit) break
      first.push({ nextAt: failsAt >= horizonYears ? Infinity : failsAt, lifeTimes, part: 1 + 2 * rank + hit })
    }
    if (hit === 1 && hits > 0 && hits < unit.count) lead = stream.uniform()
  }
  const strings = dealStrings(unit, draw, first.length)
  return first.map(({ nextAt, lifeTimes, part }, i) => ({
    unit,
    stream: openStream(unit.key, draw, part),
    string: strings[i] ?? -1,
    fittedAt: 0,
    startedAt: 0,
    virtualAge: unit.ageYears,
    serviceAge: unit.ageYears,
    lifeTimes,
    cured: 0,
    repairs: 0,
    last: null,
    nextAt,
    nextIsPlanned: false,
    fate: null,
    detectAt: Infinity,
    detected: false,
    inHand: false,
    returnAt: Infinity,
  }))
}

/** M2: weights h·S(a₀/f)^m of units hit against (1−h)·S(a₀)^m of units spared. */
function hitShare(unit: UnitParameters, batch: { readonly affects: number; readonly lifeTimes: number }): number {
  const { affects, lifeTimes } = batch
  const hit = affects * Math.exp(-unit.multiplier * cumulativeHazard(unit.modes, unit.ageYears / lifeTimes))
  const spared = (1 - affects) * Math.exp(-unit.multiplier * cumulativeHazard(unit.modes, unit.ageYears))
  return hit + spared === 0 ? affects : hit / (hit + spared)
}

/** A binomial count, by the gaps between hits. */
function countHits(count: number, share: number, stream: Stream): number {
  if (share <= 0) return 0
  if (share >= 1) return count
  const gap = (): number => Math.floor(Math.log(stream.uniform()) / Math.log1p(-share))
  let hits = 0
  for (let at = gap(); at < count; at += 1 + gap()) hits++
  return hits
}

/** O4: units are dealt one to each string in turn, and which of them fails is chance. */
function dealStrings(unit: UnitParameters, draw: number, failing: number): number[] {
  if (unit.strings < 2) return new Array<number>(failing).fill(unit.strings - 1)
  const stream = openStream(unit.key, draw, 0xffffffff)
  const labels = Array.from({ length: unit.count }, (_, i) => i)
  return Array.from({ length: failing }, (_, i) => {
    const j = i + Math.floor(stream.coarse() * (unit.count - i))
    const label = labels[j] ?? 0
    labels[j] = labels[i] ?? 0
    return (unit.dealtBefore + label) % unit.strings
  })
}
