import type { CsvTable } from '../../input/csv.ts'
import { sumOf } from '../../numerics/sum.ts'
import { DAYS_OF_MONTH } from '../../units.ts'

/** A moment of a year without a 29 February. */
export interface RowTime {
  /** Minutes from the first of January; null: on a 29 February, which is left out. */
  readonly minute: number | null
  /** Minutes on a continuous calendar, to compute how far apart rows are. */
  readonly running: number
}

const DATE = /^(\d{4})-(\d{1,2})-(\d{1,2})|^(\d{1,2})[./-](\d{1,2})[./-](\d{4})/
const TIME = /(\d{1,2}):(\d{2})(?::\d{2}(?:\.\d+)?)?\s*([ap]m)?/i
const DATE_HEADER = /date|time|day|interval|start|from|until|end|stamp/i

/**
 * When each row of a table was, if it says so in a column of dates, or of dates and one of times. Clock time as written;
 * offsets are not read.
 *
 * @param table - rows of one year or more
 * @returns a moment for each row; null where no column holds dates
 */
export function rowTimes(table: CsvTable): readonly RowTime[] | null {
  const first = table.rows[0]
  if (first === undefined) return null
  const dates = table.columns.find(column => DATE_HEADER.test(column) && DATE.test(first.cells[column] ?? ''))
  if (dates === undefined) return null
  const clock = table.columns.find(column => column !== dates && TIME.test(first.cells[column] ?? ''))
  const cells = table.rows.map(({ cells }) =>
    TIME.test(cells[dates] ?? '') || clock === undefined
      ? (cells[dates] ?? '')
      : `${cells[dates] ?? ''} ${cells[clock] ?? ''}`,
  )
  const monthFirst = cells.some(cell => Number(DATE.exec(cell)?.[5] ?? 0) > 12)
  const times = cells.map(cell => timeOf(cell, monthFirst))
  return times.every(time => time !== null) ? times : null
}

function timeOf(cell: string, monthFirst: boolean): RowTime | null {
  const date = DATE.exec(cell)
  if (date === null) return null
  const [year, month, day] =
    date[1] === undefined
      ? monthFirst
        ? [date[6], date[4], date[5]]
        : [date[6], date[5], date[4]]
      : [date[1], date[2], date[3]]
  const time = TIME.exec(cell.slice(date[0].length))
  const hour = (Number(time?.[1] ?? 0) % (time?.[3] === undefined ? 25 : 12)) + (/p/i.test(time?.[3] ?? '') ? 12 : 0)
  const minutes = 60 * hour + Number(time?.[2] ?? 0)
  const [m, d] = [Number(month), Number(day)]
  if (!(m >= 1 && m <= 12 && d >= 1 && d <= 31)) return null
  const before = sumOf(DAYS_OF_MONTH.slice(0, m - 1))
  const leap = m === 2 && d === 29
  return {
    minute: leap ? null : 24 * 60 * (before + d - 1) + minutes,
    running: Date.UTC(Number(year), m - 1, d) / 60_000 + minutes,
  }
}
