import { FailureTickets } from './failure-tickets.ts'
import { NumberList } from './number-list.ts'
import type { DateOrder, WrittenDay } from './written-day.ts'

/** A closing day later than this after the ticket is a ticket that nobody closed, in days (ours). */
const LONGEST_OUTAGE_DAYS = 365

/** In place of a missing day. */
const NO_DAY = -2_147_483_648

/** Tickets once the order of day and month is known. */
export interface DatedTickets {
  readonly failures: FailureTickets
  readonly nFailures: number
  readonly nNoFailure: number
  /** Failures written before an earlier one of the same unit. */
  readonly nOutOfOrder: number
  /** Closing days over a year after the ticket, which are not used. */
  readonly nClosedLate: number
  /** The day of the first ticket of all, failure or not; null without any. */
  readonly firstDay: number | null
}

/**
 * Tickets as numbers, under both orders until the order is known. Of those that are no failures only the ones are kept
 * that one of the orders may refuse; the others are counted.
 */
export class KeptTickets {
  readonly #lines = new NumberList()
  /** Number of the name; −1: no failure. */
  readonly #names = new NumberList()
  readonly #days = [new NumberList(), new NumberList()] as const
  readonly #closed = [new NumberList(), new NumberList()] as const
  #nNoFailure = 0
  /** First day of those that are counted alone, under both orders. */
  readonly #first = [Infinity, Infinity] as [number, number]

  /**
   * Keeps a failure.
   *
   * @param line - of the file
   * @param name - number of its name
   * @param day - of the ticket
   * @param closed - null: not given
   */
  add(line: number, name: number, day: WrittenDay, closed: WrittenDay | null): void {
    this.#lines.push(line)
    this.#names.push(name)
    this.#days[0].push(whole(day.dayMonth))
    this.#days[1].push(whole(day.monthDay))
    this.#closed[0].push(whole(closed?.dayMonth))
    this.#closed[1].push(whole(closed?.monthDay))
  }

  /** Keeps a ticket that is no failure. */
  addOther(line: number, day: WrittenDay): void {
    if (Number.isNaN(day.dayMonth) || Number.isNaN(day.monthDay)) {
      this.add(line, -1, day, null)
      return
    }
    this.#nNoFailure++
    this.#first[0] = Math.min(this.#first[0], day.dayMonth)
    this.#first[1] = Math.min(this.#first[1], day.monthDay)
  }

  /**
   * The tickets under the orders that were settled.
   *
   * @param dateOrder - of the day of the ticket
   * @param closedOrder - of the day on which it was closed
   * @param refuse - called with each ticket with a day that does not exist in its order
   */
  resolve(dateOrder: DateOrder, closedOrder: DateOrder, refuse: (line: number, isDate: boolean) => void): DatedTickets {
    const failures = new FailureTickets()
    const order = dateOrder === 'day-month' ? 0 : 1
    const days = this.#days[order]
    const closings = this.#closed[closedOrder === 'day-month' ? 0 : 1]
    const lastDays = new Map<number, number>()
    let nNoFailure = this.#nNoFailure
    let [nOutOfOrder, nClosedLate, firstDay] = [0, 0, this.#first[order]]
    for (let t = 0; t < this.#lines.length; t++) {
      const [line, name, day, closing] = [this.#lines.at(t), this.#names.at(t), days.at(t), closings.at(t)]
      const closedWritten = this.#closed[0].at(t) !== NO_DAY || this.#closed[1].at(t) !== NO_DAY
      if (day === NO_DAY || (closing === NO_DAY && closedWritten)) {
        refuse(line, day === NO_DAY)
        continue
      }
      firstDay = Math.min(firstDay, day)
      if (name < 0) {
        nNoFailure++
        continue
      }
      const closedLate = closing > day + LONGEST_OUTAGE_DAYS
      if (closedLate) nClosedLate++
      if (day < (lastDays.get(name) ?? day)) nOutOfOrder++
      lastDays.set(name, day)
      failures.add(name, { line, day, closed: closing === NO_DAY || closedLate ? day : Math.max(day, closing) })
    }
    const nFailures = failures.length
    return {
      failures,
      nFailures,
      nNoFailure,
      nOutOfOrder,
      nClosedLate,
      firstDay: firstDay === Infinity ? null : firstDay,
    }
  }
}

function whole(day: number | undefined): number {
  return day === undefined || Number.isNaN(day) ? NO_DAY : day
}
