import { InputError } from '../../errors.ts'
import { asInputError } from '../../input/csv.ts'
import { readLines } from '../../input/lines.ts'
import { show } from '../../input/problems.ts'
import { groupName, groupNameFault } from '../records/group-name.ts'
import { BadRows } from './bad-rows.ts'
import { type ColumnOrder, DateColumn, otherOrder, type PlacedDay, settleOrders } from './date-column.ts'
import {
  type FoundColumns,
  findOwnerColumns,
  REGISTER_COLUMNS,
  type RegisterColumn,
  whichHeader,
} from './owner-columns.ts'
import { type DateOrder, dayIn, type WrittenDay } from './written-day.ts'

/** One row of the register: a unit with the days it was in service. */
export interface Listed {
  readonly line: number
  /** Where it was fitted; its own name where no places are given. */
  readonly place: string
  /** Its own name where it differs from the place; '' otherwise. */
  readonly serial: string
  /** Value of the column that makes groups; '' where blank. */
  readonly group: string
  readonly batch: string
  /** Equal units that the row represents; 1 where nothing is said. */
  readonly count: number
  /** Days since 1970-01-01. */
  readonly inService: number
  /** Infinity: not retired. */
  readonly retired: number
}

/** A row of a unit that is not retired, without a day of installation that can be read. */
export interface Undated {
  readonly place: string
  readonly group: string
  readonly count: number
}

/** A register as read. */
export interface Register {
  readonly nRows: number
  readonly rows: readonly Listed[]
  /** The file names places and units apart. */
  readonly hasPlaces: boolean
  readonly hasRetired: boolean
  readonly unused: readonly string[]
  readonly orders: readonly ColumnOrder[]
  /** The latest day of installation; null without any. */
  readonly latest: PlacedDay | null
  /** Names on rows that could not be read. */
  readonly unreadNames: ReadonlySet<string>
  /** Rows that count as bad only because the day of installation is missing. */
  readonly undated: readonly Undated[]
  readonly bad: BadRows
}

/** How a register is read. */
export interface RegisterSettings {
  readonly file: string
  readonly headers: ReadonlyMap<string, string>
  /** Header that makes groups; null: `model` if there is one; 'none': one group. */
  readonly groupBy: string | null
  readonly dateOrder: DateOrder | null
}

interface RawRow {
  readonly line: number
  readonly place: string
  readonly serial: string
  readonly group: string
  readonly batch: string
  readonly count: number
  readonly inService: WrittenDay
  readonly retired: WrittenDay | null
}

/**
 * A name as it is compared: without capitals, outer and doubled blanks.
 *
 * @param name - as written
 */
export function comparedName(name: string): string {
  return name.trim().toLowerCase().replace(/\s+/g, ' ')
}

/**
 * Reads a list of units with their day of installation.
 *
 * @param chunks - the bytes of the file
 * @param settings - see `RegisterSettings`
 * @returns the rows in the order of the file; those that cannot be read are in `bad`
 * @throws InputError where the file cannot be read because of its header or order of dates
 */
export async function readRegister(chunks: AsyncIterable<Uint8Array>, settings: RegisterSettings): Promise<Register> {
  const { file } = settings
  const bad = new BadRows(file)
  const unreadNames = new Set<string>()
  const raw: RawRow[] = []
  const undated: Undated[] = []
  const state: { head: Head | null } = { head: null }
  let nRows = 0
  try {
    await readLines(chunks, {
      separator: () => {},
      line: (line, fields) => {
        const { head } = state
        if (head === null) {
          state.head = readHead(fields, settings)
          return
        }
        if (fields.every(field => field.trim() === '')) return
        nRows++
        const row = readRow(line, fields, head, bad, undated)
        if (row !== null) raw.push(row)
        else for (const name of namesOf(fields, head)) unreadNames.add(comparedName(name))
      },
    })
  } catch (cause) {
    throw asInputError(file, cause)
  }
  const { columns, inService, retired } = state.head ?? nothing(file)
  const { orders, problems } = settleOrders(file, [inService, retired], settings.dateOrder)
  if (problems.length > 0) throw new InputError(problems)
  const [startOrder, endOrder] = [orders[0]?.order ?? 'day-month', orders[1]?.order ?? 'day-month']
  const rows: Listed[] = []
  for (const row of raw) {
    const start = dayIn(row.inService, startOrder)
    const end = row.retired === null ? Infinity : dayIn(row.retired, endOrder)
    if (Number.isNaN(start)) bad.add(row.line, inService.header, otherOrder(startOrder))
    else if (Number.isNaN(end)) bad.add(row.line, retired.header, otherOrder(endOrder))
    else if (end < start) bad.add(row.line, retired.header, 'the unit is retired before it is put into service')
    else {
      rows.push({ ...row, inService: start, retired: end })
      continue
    }
    for (const name of [row.place, row.serial]) unreadNames.add(comparedName(name))
  }
  if (raw.length === 0 && bad.count === 0) throw nothingIn(file, 'the file has a header but no rows')
  return {
    nRows,
    rows,
    hasPlaces: columns.at.unit >= 0 ? columns.at.serial >= 0 || columns.at.place >= 0 : columns.at.place >= 0,
    hasRetired: columns.at.retired >= 0,
    unused: columns.unused,
    orders: orders.filter(({ header }) => header !== ABSENT),
    latest: inService.latest(startOrder),
    unreadNames,
    undated,
    bad,
  }
}

/** Header of a date column that the file does not have. */
const ABSENT = ''

interface Head {
  readonly columns: FoundColumns<RegisterColumn>
  readonly group: number
  readonly inService: DateColumn
  readonly retired: DateColumn
  readonly nHeaders: number
}

function readHead(fields: readonly string[], settings: RegisterSettings): Head {
  const { file, groupBy } = settings
  const { columns, problems } = findOwnerColumns<RegisterColumn>(file, fields, REGISTER_COLUMNS, settings.headers)
  const { at } = columns
  if (at.unit < 0 && at.serial < 0 && at.place < 0) {
    const message = `the file has no column unit; it has ${fields.map(field => `"${field.trim()}"`).join(', ')}.${whichHeader('unit', fields, 'register')}`
    problems.push({ file, line: 1, column: null, key: 'unit', message })
  }
  let group = at.model
  if (groupBy !== null) {
    group = groupBy === 'none' ? -1 : fields.findIndex(field => field.trim().toLowerCase() === groupBy.toLowerCase())
    if (groupBy !== 'none' && group < 0) {
      const message = `--by names this column, but the file has ${fields.map(field => `"${field.trim()}"`).join(', ')}`
      problems.push({ file, line: 1, column: null, key: groupBy, message })
    }
  }
  if (problems.length > 0) throw new InputError(problems)
  return {
    columns,
    group,
    inService: new DateColumn(columns.headers.in_service),
    retired: new DateColumn(at.retired < 0 ? ABSENT : columns.headers.retired),
    nHeaders: fields.length,
  }
}

/** Place and own name of a row: `unit` is the place where there is a `serial`, and the unit where there is a `place`. */
function namesOf(fields: readonly string[], { columns: { at } }: Head): [place: string, serial: string] {
  const cell = (index: number): string => (index < 0 ? '' : (fields[index] ?? '').trim())
  const [unit, serial, place] = [cell(at.unit), cell(at.serial), cell(at.place)]
  if (at.place >= 0) return [place, at.unit >= 0 ? unit : serial]
  return at.unit >= 0 ? [unit, serial] : [serial, '']
}

function readRow(line: number, fields: readonly string[], head: Head, bad: BadRows, undated: Undated[]): RawRow | null {
  const { columns, inService, retired } = head
  const cell = (index: number): string => (index < 0 ? '' : (fields[index] ?? '').trim())
  if (fields.slice(head.nHeaders).some(field => field.trim() !== '')) {
    bad.add(
      line,
      '',
      `the line has ${fields.length} fields but the header ${head.nHeaders}; put fields that contain a separator into quotation marks`,
    )
    return null
  }
  const [placeName, serial] = namesOf(fields, head)
  const place = placeName === '' ? serial : placeName
  if (place === '') {
    bad.add(line, columns.headers.unit, 'the unit has no name; give the name that tickets use')
    return null
  }
  const fault = groupNameFault(cell(head.group))
  if (fault !== null) {
    bad.add(line, columns.headers.model ?? 'model', fault)
    return null
  }
  const start = inService.read(cell(columns.at.in_service), line)
  if (start === null || typeof start === 'string') {
    bad.add(
      line,
      inService.header,
      start ??
        'empty; give the day on which the unit was put into service, or leave such rows out, counted, with --skip-bad-rows',
    )
    const count = countOf(cell(columns.at.count), serial)
    if (cell(columns.at.retired) === '' && typeof count === 'number')
      undated.push({ place, group: groupName(cell(head.group)), count })
    return null
  }
  const count = countOf(cell(columns.at.count), serial)
  if (typeof count === 'string') {
    bad.add(line, columns.headers.count, count)
    return null
  }
  const end = retired.read(cell(columns.at.retired), line)
  if (typeof end === 'string') {
    bad.add(line, retired.header, end)
    return null
  }
  return {
    line,
    place,
    serial,
    group: groupName(cell(head.group)),
    batch: cell(columns.at.batch),
    count,
    inService: start,
    retired: end,
  }
}

/** Units that a row represents; a message where it cannot be read. */
function countOf(cell: string, serial: string): number | string {
  if (cell === '') return 1
  const count = /^\d{1,5}$/.test(cell) ? Number(cell) : 0
  if (count < 1 || count > MOST_IN_A_ROW) {
    return `${show(cell)} is no number of units; write a whole number from 1 to ${MOST_IN_A_ROW}, or leave it empty for 1`
  }
  return count > 1 && serial !== ''
    ? `${count} units have the one name ${show(serial)}; give each a row of its own`
    : count
}

/** Most units of one row; ours: a field of panels, and no power in watts. */
const MOST_IN_A_ROW = 2000

function nothing(file: string): never {
  throw nothingIn(file, 'the file is empty; it needs a header and rows')
}

function nothingIn(file: string, message: string): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message }])
}
