import { InputError } from '../../errors.ts'
import { asInputError } from '../../input/csv.ts'
import { readLines } from '../../input/lines.ts'
import { BadRows } from './bad-rows.ts'
import { type ColumnOrder, DateColumn, otherOrder, type PlacedDay, settleOrders } from './date-column.ts'
import { askFailedWhen, type FailedWhen } from './failed-when.ts'
import { type DatedTickets, KeptTickets } from './kept-tickets.ts'
import { lettersAndDigits, namesAlike } from './names-alike.ts'
import { type FoundColumns, findOwnerColumns, TICKET_COLUMNS, type TicketColumn } from './owner-columns.ts'
import { comparedName } from './read-register.ts'
import type { DateOrder } from './written-day.ts'

/** A list of tickets as read. */
export interface Tickets extends DatedTickets {
  readonly nRows: number
  readonly nNoUnit: number
  /** Failures of units on register rows that could not be read. */
  readonly nUnreadUnit: number
  /** Failures of units that the register does not have, and the first such name. */
  readonly nUnknownUnit: number
  /** Failures whose unit is written otherwise than in the register. */
  readonly nOtherSpelling: number
  readonly firstUnknown: string
  readonly latest: PlacedDay | null
  readonly hasText: boolean
  readonly unused: readonly string[]
  readonly orders: readonly ColumnOrder[]
  readonly bad: BadRows
}

/** How tickets are read. */
export interface TicketSettings {
  readonly file: string
  readonly headers: ReadonlyMap<string, string>
  readonly dateOrder: DateOrder | null
  /** `--failed-when` was given. */
  readonly wordsGiven: boolean
}

/**
 * Reads a list of tickets as it streams in; only failures are kept, a few numbers each.
 *
 * @param chunks - the bytes of the file
 * @param names - number of each unit and place of the register, by plain name
 * @param unreadNames - plain names on register rows that could not be read
 * @param failedWhen - which texts are failures
 * @param settings - see `TicketSettings`
 * @returns the failures; rows that cannot be read are in `bad`
 * @throws InputError where the file cannot be read because of its header or order of dates
 * @throws UsageError where texts are given but not which of them are failures, or none is
 */
export async function readTickets(
  chunks: AsyncIterable<Uint8Array>,
  names: ReadonlyMap<string, number>,
  unreadNames: ReadonlySet<string>,
  failedWhen: FailedWhen,
  settings: TicketSettings,
): Promise<Tickets> {
  const { file } = settings
  const bad = new BadRows(file)
  const kept = new KeptTickets()
  const state: { head: Head | null } = { head: null }
  const count = { rows: 0, noFailure: 0, noUnit: 0, unreadUnit: 0, unknownUnit: 0, otherSpelling: 0 }
  let alike: ReadonlyMap<string, number> | null = null
  let firstUnknown = ''

  const readRow = (line: number, fields: readonly string[], head: Head): void => {
    const { at } = head.columns
    const cell = (index: number): string => (index < 0 ? '' : (fields[index] ?? '').trim())
    if (fields.length > head.nHeaders && fields.slice(head.nHeaders).some(field => field.trim() !== '')) {
      bad.add(
        line,
        '',
        `the line has ${fields.length} fields but the header ${head.nHeaders}; put fields that contain a separator into quotation marks`,
      )
      return
    }
    const day = head.date.read(cell(at.date), line)
    if (day === null || typeof day === 'string') {
      bad.add(line, head.date.header, day ?? 'empty; give the day of the ticket')
      return
    }
    const closed = head.closed.read(cell(at.closed), line)
    if (typeof closed === 'string') {
      bad.add(line, head.closed.header, closed)
      return
    }
    if (!failedWhen.isFailure(cell(at.text))) {
      kept.addOther(line, day)
      return
    }
    const unit = comparedName(cell(at.unit))
    let number = names.get(unit)
    if (number === undefined && !unreadNames.has(unit)) {
      alike ??= namesAlike(names)
      number = alike.get(lettersAndDigits(unit))
      if (number !== undefined) count.otherSpelling++
    }
    if (number !== undefined) kept.add(line, number, day, closed)
    else if (unit === '') count.noUnit++
    else if (unreadNames.has(unit)) count.unreadUnit++
    else {
      count.unknownUnit++
      if (firstUnknown === '') firstUnknown = cell(at.unit)
    }
  }
  try {
    await readLines(chunks, {
      separator: () => {},
      line: (line, fields) => {
        if (state.head === null) state.head = readHead(fields, settings)
        else if (fields.some(field => field.trim() !== '')) {
          count.rows++
          readRow(line, fields, state.head)
        }
      },
    })
  } catch (cause) {
    throw asInputError(file, cause)
  }
  const head = state.head
  if (head === null) {
    const message = 'the file is empty; it needs a header and rows'
    throw new InputError([{ file, line: null, column: null, key: '', message }])
  }
  const { columns, date, closed } = head
  const { orders, problems } = settleOrders(file, [date, closed], settings.dateOrder)
  if (problems.length > 0) throw new InputError(problems)
  const hasText = columns.at.text >= 0
  const others = failedWhen.common(false, 10)
  const failing = failedWhen.common(true, 10)
  if (hasText && !settings.wordsGiven && failing.length > 0)
    throw askFailedWhen(`${file} has a column ${columns.headers.text}, and a ticket is not always a failure.`, failing)
  if (settings.wordsGiven && failing.length === 0 && others.length > 0)
    throw askFailedWhen(`No text in ${file} contains any of the words of --failed-when.`, others)
  const [dateOrder, closedOrder] = [orders[0]?.order ?? 'day-month', orders[1]?.order ?? 'day-month']
  return {
    ...kept.resolve(dateOrder, closedOrder, (line, isDate) =>
      bad.add(line, isDate ? date.header : closed.header, otherOrder(isDate ? dateOrder : closedOrder)),
    ),
    nRows: count.rows,
    nNoUnit: count.noUnit,
    nUnreadUnit: count.unreadUnit,
    nUnknownUnit: count.unknownUnit,
    nOtherSpelling: count.otherSpelling,
    firstUnknown,
    latest: later(date.latest(dateOrder), closed.latest(closedOrder)),
    hasText,
    unused: columns.unused,
    orders: orders.filter(({ header }) => header !== ''),
    bad,
  }
}

interface Head {
  readonly columns: FoundColumns<TicketColumn>
  readonly date: DateColumn
  readonly closed: DateColumn
  readonly nHeaders: number
}

function readHead(fields: readonly string[], settings: TicketSettings): Head {
  const { columns, problems } = findOwnerColumns<TicketColumn>(settings.file, fields, TICKET_COLUMNS, settings.headers)
  if (problems.length > 0) throw new InputError(problems)
  return {
    columns,
    date: new DateColumn(columns.headers.date),
    closed: new DateColumn(columns.at.closed < 0 ? '' : columns.headers.closed),
    nHeaders: fields.length,
  }
}

function later(a: PlacedDay | null, b: PlacedDay | null): PlacedDay | null {
  if (a === null || b === null) return a ?? b
  return b.day > a.day ? b : a
}
