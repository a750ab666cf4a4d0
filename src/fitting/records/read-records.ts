import { InputError, type Problem } from '../../errors.ts'
import { asInputError } from '../../input/csv.ts'
import { readLines } from '../../input/lines.ts'
import type { AgeUnit } from '../age-unit.ts'
import type { SlotHistory } from '../curves/mean-cumulative.ts'
import type { LifeRows } from '../rows.ts'
import { type ColumnChoice, type Columns, findColumns } from './columns.ts'
import { groupName, groupNameFault } from './group-name.ts'
import { RowReader } from './row.ts'
import { RowProblem } from './row-problem.ts'
import { RowStore } from './row-store.ts'
import { Slots } from './slots.ts'

/** Records of one group. */
export interface RecordGroup {
  readonly name: string
  readonly rows: LifeRows
  /** Null where no slot has more than one life. */
  readonly slots: readonly SlotHistory[] | null
  /** Units with rows that overlap in time. */
  readonly nOverlapping: number
  /** Units with rows that are not in order of time in the file. */
  readonly nOutOfOrder: number
}

/** A whole file of field records. */
export interface Records {
  readonly groups: readonly RecordGroup[]
  /** Names of the batches, by index. */
  readonly batches: readonly string[]
  /** Lines of data, bad ones included. */
  readonly nLines: number
  readonly nSkipped: number
  /** The first of the problems of lines that were left out. */
  readonly skipped: readonly Problem[]
  /** Units that failed on the day they were installed; they count as failed within that day. */
  readonly nOnFirstDay: number
  /** Names of units, and how many of them occur in several groups. */
  readonly nNames: number
  readonly nSharedNames: number
}

/** How a file is read. */
export interface ReadSettings {
  /** As the user named it; `-` for standard input. */
  readonly file: string
  readonly ageUnit: AgeUnit
  readonly choice: ColumnChoice
  /** Leave bad lines out and go on. */
  readonly skipBadRows: boolean
  /** Day on which units without `ended` still worked, days since 1970-01-01. */
  readonly asOfDay: number | null
}

/** Problems kept with their words (ours: nobody reads more, and a wrong file can have a million). */
const MOST_PROBLEMS = 1000

/** Most units of a file. Ours: beyond, the bounds on a life take seconds each, and nobody watches so many. */
const MOST_UNITS = 10_000_000

interface OpenGroup {
  readonly store: RowStore
  readonly slots: Slots
}

/**
 * Reads field records as they stream in.
 *
 * @param chunks - the bytes of the file
 * @param settings - see `ReadSettings`
 * @returns groups in order of first appearance
 * @throws InputError with the problems by line: of the header always, of rows unless they are to be skipped
 */
export async function readRecords(chunks: AsyncIterable<Uint8Array>, settings: ReadSettings): Promise<Records> {
  const { file } = settings
  const groups = new Map<string, OpenGroup>()
  const batches = new Map<string, number>()
  const problems: Problem[] = []
  let nProblems = 0
  let nLines = 0
  let nOnFirstDay = 0
  let nUnits = 0
  let decimalComma = false
  let columns: Columns | null = null
  let reader: RowReader | null = null
  let nHeaders = 0
  let group: OpenGroup | null = null
  let openedName = ''

  const readHeader = (fields: readonly string[]): void => {
    const headers = fields.map((field, i) => (i === 0 ? field.replace(/^\uFEFF/, '') : field))
    const found = findColumns(file, headers, settings.choice)
    if (found.problems.length > 0) throw new InputError(found.problems)
    columns = found.columns
    nHeaders = headers.length
    reader = new RowReader({ columns, ageUnit: settings.ageUnit, asOfDay: settings.asOfDay, decimalComma })
  }
  const readRow = (line: number, fields: readonly string[], at: Columns, rows: RowReader): void => {
    nLines++
    if (fields.length === 1 && (fields[0] ?? '').trim() === '') return
    const found =
      fields.length > nHeaders && fields.slice(nHeaders).some(field => field.trim() !== '')
        ? new RowProblem(
            '',
            `the line has ${fields.length} fields but the header ${nHeaders}; a separator inside a field needs quotation marks around it`,
          )
        : (longGroup(fields[at.group], settings.choice.groupBy) ?? rows.read(fields))
    const row = found instanceof RowProblem || nUnits + found.count <= MOST_UNITS ? found : tooMany()
    if (row instanceof RowProblem) {
      nProblems++
      if (problems.length < MOST_PROBLEMS)
        problems.push({ file, line, column: null, key: row.key, message: row.message })
      return
    }
    nUnits += row.count
    const name = at.group < 0 ? 'all' : groupName(fields[at.group] ?? '') || 'not given'
    if (group === null || name !== openedName) {
      group = entry(groups, name, () => openGroup(settings.ageUnit))
      openedName = name
    }
    const batchName = at.batch < 0 ? '' : (fields[at.batch] ?? '').trim()
    const batch = batchName === '' ? -1 : entry(batches, batchName, () => batches.size)
    group.store.add(row.startAge, row.afterAge, row.beforeAge, row.count, batch, row.month)
    if (row.onFirstDay) nOnFirstDay += row.count
    const unit = at.unit < 0 ? '' : (fields[at.unit] ?? '')
    if (unit !== '' && row.count === 1) {
      const failed = row.beforeAge !== Infinity
      const end = failed ? (row.afterAge + row.beforeAge) / 2 : row.afterAge
      group.slots.add(unit, row.startAge, end, failed, row.inServiceDay)
    }
  }

  try {
    await readLines(chunks, {
      separator: separator => {
        decimalComma = separator === ';'
      },
      line: (line, fields) => {
        if (columns === null || reader === null) readHeader(fields)
        else readRow(line, fields, columns, reader)
      },
    })
  } catch (cause) {
    throw asInputError(file, cause)
  }
  if (columns === null)
    throw new InputError([
      { file, line: null, column: null, key: '', message: 'the file is empty; it needs a header and rows' },
    ])
  if (nProblems > 0 && !settings.skipBadRows) throw new InputError([...problems, ...remaining(file, nProblems)])
  if (groups.size === 0) {
    const message = nProblems > 0 ? 'no row could be read' : 'the file has a header but no rows'
    throw new InputError([...problems, { file, line: null, column: null, key: '', message }])
  }
  return {
    groups: [...groups].map(([name, { store, slots }]) => {
      const histories = slots.histories()
      const { nOverlapping, nOutOfOrder } = slots
      return { name, rows: store.rows(), slots: histories, nOverlapping, nOutOfOrder }
    }),
    ...sharedNames([...groups.values()]),
    batches: [...batches.keys()],
    nLines,
    nSkipped: nProblems,
    skipped: problems.slice(0, 20),
    nOnFirstDay,
  }
}

function longGroup(cell: string | undefined, column: string | null): RowProblem | null {
  const fault = groupNameFault(cell ?? '')
  return fault === null ? null : new RowProblem(column ?? 'model', fault)
}

function tooMany(): RowProblem {
  return new RowProblem('count', `with this row there are more than ${MOST_UNITS} units; that is the limit of a file`)
}

function openGroup(ageUnit: AgeUnit): OpenGroup {
  return { store: new RowStore(), slots: new Slots(ageUnit) }
}

/** Rows above which names are not compared between groups (ours: memory). */
const MOST_COMPARED = 1_000_000

/** Names of units, and how many occur in several groups. */
function sharedNames(groups: readonly OpenGroup[]): Pick<Records, 'nNames' | 'nSharedNames'> {
  const keys = groups.map(({ slots }) => slots.nameKeys())
  if (groups.length < 2 || keys.reduce((sum, own) => sum + own.length, 0) > MOST_COMPARED) {
    return { nNames: 0, nSharedNames: 0 }
  }
  const firstGroup = new Map<number, number>()
  const shared = new Set<number>()
  keys.forEach((own, group) => {
    for (const key of own) {
      const first = firstGroup.get(key)
      if (first === undefined) firstGroup.set(key, group)
      else if (first !== group) shared.add(key)
    }
  })
  return { nNames: firstGroup.size, nSharedNames: shared.size }
}

function remaining(file: string, nProblems: number): Problem[] {
  if (nProblems <= MOST_PROBLEMS) return []
  return [
    {
      file,
      line: null,
      column: null,
      key: '',
      message: `and ${nProblems - MOST_PROBLEMS} more rows that cannot be read`,
    },
  ]
}

/** The value of a key, made when it is first needed. The key is copied: a piece of a line would keep its whole chunk. */
function entry<T>(map: Map<string, T>, key: string, make: () => T): T {
  const known = map.get(key)
  if (known !== undefined) return known
  const made = make()
  map.set(Buffer.from(key).toString(), made)
  return made
}
