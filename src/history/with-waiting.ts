import { TooManyFailuresError } from '../errors.ts'
import { FIRST_ROOM } from '../numerics/first-room.ts'
import { DownUnits } from './down-units.ts'
import { delayYears, detect, drawNumbers, seenByGateways } from './downtime.ts'
import { appendFirstFailures } from './first-failures.ts'
import type { History } from './history.ts'
import { appendNextLives, settle } from './next-lives.ts'
import type { OptionParameters, UnitParameters } from './parameters.ts'
import { PendingEvents } from './pending-events.ts'
import { NUMBERS, PLANNED, REPAIR, RESPOND, type Rows } from './rows.ts'

/**
 * Plays the populations whose units wait for each other, for a visit or for a planned replacement (O2, O3, M6):
 * lifetime after lifetime, event by event over the few units that fail. The rows are appended to the same tables.
 *
 * @param parameters - the option
 * @param units - those populations
 * @param history - appended to
 * @param most - failures of one lifetime above which it is taken for a typing error
 * @throws TooManyFailuresError past that
 */
export function playWithWaiting(
  parameters: OptionParameters,
  units: readonly UnitParameters[],
  history: History,
  most: number,
): void {
  for (const unit of units) {
    appendFirstFailures(unit, history, parameters.horizonYears)
    const rows = history.rows[unit.place]
    const starts = history.starts[unit.place]
    if (rows === undefined || starts === undefined) continue
    drawNumbers(rows, 0, rows.n)
    settle(unit, rows, starts, 0, rows.n)
    if (!seenByGateways(parameters, unit)) detect(parameters, unit, history, 0, rows.n)
  }
  loop.play(parameters, units, history, most)
}

/** The events of one lifetime after another; its memory is reused. */
class EventLoop {
  #parameters: OptionParameters | null = null
  #units: readonly UnitParameters[] = []
  #history: History | null = null
  readonly #pending = new PendingEvents()
  readonly #down = new DownUnits()
  /** By population: its first row that no lifetime has taken yet. */
  #taken = new Int32Array(FIRST_ROOM)
  /** By population: number of its rows before any lifetime is played. */
  #originals = new Int32Array(FIRST_ROOM)
  /** When the visit that was called arrives; Infinity: none is on its way (O3). */
  #arrivesAt = Infinity
  /** Units on the list of the visit policy, and its oldest: moment of detection, place, row (O3). */
  #listed = 0
  #oldestSince = Infinity
  #oldestPlace = 0
  #oldestRow = 0

  play(parameters: OptionParameters, units: readonly UnitParameters[], history: History, most: number): void {
    this.#parameters = parameters
    this.#units = parameters.units
    this.#history = history
    if (this.#taken.length < parameters.units.length) {
      this.#taken = new Int32Array(parameters.units.length)
      this.#originals = new Int32Array(parameters.units.length)
    }
    this.#taken.fill(0)
    for (const { place } of units) this.#originals[place] = history.rows[place]?.n ?? 0
    for (let lane = 0; lane < history.n; lane++) {
      this.#take(units, lane, history)
      if (this.#pending.end === 0) continue
      this.#playLane(parameters, history, most)
    }
  }

  /** Loads a lifetime: the first events of its units. */
  #take(units: readonly UnitParameters[], lane: number, history: History): void {
    this.#pending.clear()
    for (let i = 0; i < units.length; i++) {
      const place = units[i]?.place ?? 0
      const rows = history.rows[place]
      if (rows === undefined) continue
      let row = this.#taken[place] as number
      const end = this.#originals[place] as number
      for (; row < end && rows.lane[row] === lane; row++) this.#pending.insert(rows.failedAt[row] as number, place, row)
      this.#taken[place] = row
    }
  }

  #playLane(parameters: OptionParameters, history: History, most: number): void {
    let failures = 0
    const pending = this.#pending
    const down = this.#down
    down.n = 0
    this.#arrivesAt = Infinity
    this.#clearList()
    for (;;) {
      const failsAt = pending.nextAt
      const detected = down.soonest()
      const detectAt = detected < 0 ? Infinity : (down.detectAt[detected] as number)
      // a visit comes when it was called, or is called when the oldest entry of the list has waited long enough
      const calledAt =
        this.#arrivesAt === Infinity ? this.#oldestSince + (parameters.visitPolicy?.waitAtMostYears ?? 0) : Infinity
      const visitAt = Math.min(this.#arrivesAt, calledAt)
      if (Math.min(failsAt, detectAt, visitAt) >= parameters.horizonYears) break
      if (failsAt <= detectAt && failsAt <= visitAt) {
        if (++failures > most) throw new TooManyFailuresError(failures)
        this.#fail(parameters, history)
      } else if (this.#arrivesAt <= detectAt && this.#arrivesAt <= visitAt) this.#arrive(this.#arrivesAt)
      else if (detectAt <= visitAt) this.#detect(parameters, history, detected)
      else this.#call(calledAt, this.#oldestPlace, this.#oldestRow)
    }
    // no visit reaches these before the horizon
    for (let i = 0; i < down.n; i++) {
      const rows = this.#rowsOf(history, down.place[i] as number)
      const row = down.row[i] as number
      if ((down.detectAt[i] as number) < Infinity) rows.detectedAt[row] = Infinity
      rows.returnedAt[row] = Infinity
    }
  }

  /** The next pending event; several planned replacements at one moment are one visit (M6). */
  #fail(parameters: OptionParameters, history: History): void {
    const pending = this.#pending
    const at = pending.nextAt
    const place = pending.place[pending.first] as number
    const row = pending.row[pending.first] as number
    const rows = this.#rowsOf(history, place)
    if (rows.action[row] === PLANNED) {
      this.#replaceAsPlanned(history, at)
      return
    }
    pending.first++
    const unit = this.#unit(place)
    const original = (rows.before[row] as number) < 0
    if (!original) this.#settle(unit, history, rows, row)
    if (!original || seenByGateways(parameters, unit)) detect(parameters, unit, history, row, row + 1)
    if (parameters.visitPolicy === null) {
      const returnedAt = (rows.detectedAt[row] as number) + respondYears(unit, rows, row) + repairYears(unit, rows, row)
      if (unit.isGateway) history.gaps.add(rows.lane[row] as number, at, returnedAt)
      this.#return(unit, rows, row, returnedAt)
      return
    }
    const gap = unit.isGateway ? history.gaps.add(rows.lane[row] as number, at, Infinity) : -1
    this.#down.add(place, row, rows.detectedAt[row] as number, gap)
  }

  /** What `playWithWaiting` does for all original units at once. */
  #settle(unit: UnitParameters, history: History, rows: Rows, row: number): void {
    drawNumbers(rows, row, row + 1)
    const starts = history.starts[unit.place]
    if (starts !== undefined) settle(unit, rows, starts, row, row + 1)
  }

  #detect(parameters: OptionParameters, history: History, i: number): void {
    const down = this.#down
    const at = down.detectAt[i] as number
    const place = down.place[i] as number
    const row = down.row[i] as number
    down.detectAt[i] = Infinity
    const unit = this.#unit(place)
    // a single unit, or a failure that stops a whole string, does not wait for others
    if (unit.count === 1 || this.#rowsOf(history, place).takesString[row] === 1) {
      if (this.#arrivesAt === Infinity) this.#call(at, place, row)
      return
    }
    if (this.#listed++ === 0) {
      this.#oldestSince = at
      this.#oldestPlace = place
      this.#oldestRow = row
    }
    if (this.#arrivesAt === Infinity && this.#listed >= (parameters.visitPolicy?.waitForUnits ?? 1))
      this.#call(at, place, row)
  }

  /** The visit comes one response of the unit that called it later (O3). */
  #call(at: number, place: number, row: number): void {
    const history = this.#history
    if (history !== null) this.#arrivesAt = at + respondYears(this.#unit(place), this.#rowsOf(history, place), row)
  }

  /** A visit repairs every unit then down, detected or not; all return after the longest repair (O3). */
  #arrive(at: number): void {
    const history = this.#history
    if (history === null) return
    const down = this.#down
    let longest = 0
    for (let i = 0; i < down.n; i++) {
      const place = down.place[i] as number
      const row = down.row[i] as number
      const rows = this.#rowsOf(history, place)
      if ((down.detectAt[i] as number) < Infinity) rows.detectedAt[row] = at
      longest = Math.max(longest, repairYears(this.#unit(place), rows, row))
    }
    const visit = down.n > 1 ? history.nVisits++ : -1
    for (let i = 0; i < down.n; i++) {
      const place = down.place[i] as number
      const row = down.row[i] as number
      const rows = this.#rowsOf(history, place)
      rows.visit[row] = visit
      if ((down.gap[i] as number) >= 0) history.gaps.end(down.gap[i] as number, at + longest)
      this.#return(this.#unit(place), rows, row, at + longest)
    }
    down.n = 0
    this.#arrivesAt = Infinity
    this.#clearList()
  }

  #replaceAsPlanned(history: History, at: number): void {
    const pending = this.#pending
    const from = pending.first
    let longest = 0
    for (; pending.nextAt === at; pending.first++) {
      const place = pending.place[pending.first] as number
      const row = pending.row[pending.first] as number
      const rows = this.#rowsOf(history, place)
      if (rows.action[row] !== PLANNED) break
      const unit = this.#unit(place)
      if ((rows.before[row] as number) >= 0) this.#settle(unit, history, rows, row)
      rows.detectedAt[row] = at
      longest = Math.max(longest, repairYears(unit, rows, row))
    }
    const to = pending.first
    const visit = to - from > 1 ? history.nVisits++ : -1
    // entries before `first` stay where they are: `#return` inserts later events behind it
    for (let i = from; i < to; i++) {
      const place = pending.place[i] as number
      const row = pending.row[i] as number
      const rows = this.#rowsOf(history, place)
      const unit = this.#unit(place)
      rows.visit[row] = visit
      if (unit.isGateway) history.gaps.add(rows.lane[row] as number, at, at + longest)
      this.#return(unit, rows, row, at + longest)
    }
  }

  /** Puts a unit back into service and inserts the next event of its slot. */
  #return(unit: UnitParameters, rows: Rows, row: number, at: number): void {
    rows.returnedAt[row] = at
    const next = rows.n
    appendNextLives(unit, rows, row, row + 1, this.#parameters?.horizonYears ?? 0)
    if (rows.n > next) this.#pending.insert(rows.failedAt[next] as number, unit.place, next)
  }

  #clearList(): void {
    this.#listed = 0
    this.#oldestSince = Infinity
  }

  #unit(place: number): UnitParameters {
    const unit = this.#units[place]
    if (unit === undefined) throw new RangeError(`no population ${place}`)
    return unit
  }

  #rowsOf(history: History, place: number): Rows {
    const rows = history.rows[place]
    if (rows === undefined) throw new RangeError(`no population ${place}`)
    return rows
  }
}

const loop = new EventLoop()

function respondYears(unit: UnitParameters, rows: Rows, row: number): number {
  return delayYears(unit.respond, rows.numbers[NUMBERS * row + RESPOND] as number)
}

function repairYears(unit: UnitParameters, rows: Rows, row: number): number {
  return delayYears(unit.repair, rows.numbers[NUMBERS * row + REPAIR] as number)
}
