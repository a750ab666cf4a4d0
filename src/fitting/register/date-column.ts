import type { Problem } from '../../errors.ts'
import { show } from '../../input/problems.ts'
import { type DateOrder, readWrittenDay, type WrittenDay } from './written-day.ts'

/** Dates remembered, so that each text is read once (ours: 500 years of days). */
const MOST_TEXTS = 200_000

/** Words that say 'no date' in exported tables. Ours, from what spreadsheets and asset systems write. */
const BLANKS: ReadonlySet<string> = new Set(['-', '–', '—', '?', 'n/a', 'na', 'none', 'null', 'open', '9999-12-31'])

/** A day with the place where it is written. */
export interface PlacedDay {
  readonly day: number
  readonly line: number
}

interface Sample {
  readonly line: number
  readonly text: string
}

/** The dates of one column: reads them and keeps what shows the order of day and month. */
export class DateColumn {
  /** Header, as the file has it. */
  readonly header: string
  #onlyDayMonth: Sample | null = null
  #onlyMonthDay: Sample | null = null
  #open: Sample | null = null
  #nOpen = 0
  #latestDayMonth: PlacedDay | null = null
  #latestMonthDay: PlacedDay | null = null
  readonly #known = new Map<string, WrittenDay | null>()

  constructor(header: string) {
    this.header = header
  }

  /** Dates that read differently under the two orders. */
  get nOpen(): number {
    return this.#nOpen
  }

  /**
   * Reads one date.
   *
   * @param text - trimmed
   * @param line - of the file
   * @returns the day; null where there is none; a message where it cannot be read
   */
  read(text: string, line: number): WrittenDay | null | string {
    if (text === '' || BLANKS.has(text.toLowerCase())) return null
    let day = this.#known.get(text)
    if (day === undefined) {
      day = readWrittenDay(text)
      // The key is copied: a piece of a line would keep its whole chunk.
      if (this.#known.size < MOST_TEXTS) this.#known.set(Buffer.from(text).toString(), day)
    }
    if (day === null) return noDate(text)
    this.#note(day, text, line)
    return day
  }

  /**
   * The order in which this column is written, from its own dates.
   *
   * @returns null where its dates leave it open, 'both' where some fit only one order and some only the other
   */
  order(): DateOrder | 'both' | null {
    if (this.#onlyDayMonth !== null && this.#onlyMonthDay !== null) return 'both'
    if (this.#onlyDayMonth !== null) return 'day-month'
    return this.#onlyMonthDay === null ? null : 'month-day'
  }

  /**
   * The latest day in the column.
   *
   * @param order - of day and month
   * @returns null without any date
   */
  latest(order: DateOrder): PlacedDay | null {
    return order === 'day-month' ? this.#latestDayMonth : this.#latestMonthDay
  }

  /**
   * What is wrong with the order of the column.
   *
   * @param file - as the user named it
   * @returns one problem that names `--date-order`
   */
  orderProblem(file: string): Problem {
    const [day, month, open] = [this.#onlyDayMonth, this.#onlyMonthDay, this.#open]
    const message =
      day !== null && month !== null
        ? `${show(day.text)} (line ${day.line}) has the day first, ${show(month.text)} (line ${month.line}) the month; say which is meant with --date-order day-month or month-day, and leave out the others with --skip-bad-rows or correct them`
        : `${show(open?.text)} may be day-month or month-day, and no date of the column decides it; say --date-order day-month or --date-order month-day`
    return { file, line: open?.line ?? day?.line ?? null, column: null, key: this.header, message }
  }

  #note(day: WrittenDay, text: string, line: number): void {
    if (day.dayMonth !== day.monthDay) {
      const sample = (): Sample => ({ line, text: Buffer.from(text).toString() })
      if (Number.isNaN(day.monthDay)) this.#onlyDayMonth ??= sample()
      else if (Number.isNaN(day.dayMonth)) this.#onlyMonthDay ??= sample()
      else {
        this.#open ??= sample()
        this.#nOpen++
      }
    }
    if (day.dayMonth > (this.#latestDayMonth?.day ?? -Infinity)) this.#latestDayMonth = { day: day.dayMonth, line }
    if (day.monthDay > (this.#latestMonthDay?.day ?? -Infinity)) this.#latestMonthDay = { day: day.monthDay, line }
  }
}

/** How one column was read. */
export interface ColumnOrder {
  readonly header: string
  readonly order: DateOrder
  /**
   * What decides: the option, the dates of the column, those of another column of the file; 'any': no date needs it.
   */
  readonly from: 'option' | 'column' | 'file' | 'any'
}

/**
 * Decides the order of each date column of a file: as `--date-order` says; else as the column's own dates allow; else
 * as the other columns of the file are written.
 *
 * @param file - as the user named it
 * @param columns - all date columns of the file
 * @param given - `--date-order`; null: not given
 * @returns the orders, one a column; and a problem for each column that stays open
 */
export function settleOrders(
  file: string,
  columns: readonly DateColumn[],
  given: DateOrder | null,
): { orders: ColumnOrder[]; problems: Problem[] } {
  const problems: Problem[] = []
  const found = new Set(columns.map(column => column.order()).filter(order => order !== null))
  const [one] = found
  const ofFile = found.size === 1 && one !== undefined && one !== 'both' ? one : null
  const orders = columns.map((column): ColumnOrder => {
    const { header } = column
    if (given !== null) return { header, order: given, from: 'option' }
    const own = column.order()
    if (own === 'day-month' || own === 'month-day') return { header, order: own, from: 'column' }
    if (own === null && column.nOpen === 0) return { header, order: 'day-month', from: 'any' }
    if (own === null && ofFile !== null) return { header, order: ofFile, from: 'file' }
    problems.push(column.orderProblem(file))
    return { header, order: 'day-month', from: 'any' }
  })
  return { orders, problems }
}

/**
 * The message for a date that fits only the order that is not used.
 *
 * @param order - in use
 */
export function otherOrder(order: DateOrder): string {
  return `this date does not exist as ${order}; correct it, or leave such rows out with --skip-bad-rows`
}

function noDate(text: string): string {
  const serial = /^\d{5}(\.\d+)?$/.test(text)
    ? '; it may be the day count of a spreadsheet: format the column as dates there'
    : ''
  return `${show(text)} is no date from 1970 to 2100 that can be read; write year-month-day like 2021-04-30${serial}`
}
