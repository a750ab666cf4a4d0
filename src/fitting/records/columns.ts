import { type Problem, UsageError } from '../../errors.ts'
import { nearest } from '../../input/problems.ts'

/** The columns `fit` knows. */
export const COLUMN_NAMES = [
  'model',
  'unit',
  'start_age',
  'end_age',
  'outcome',
  'count',
  'failed_after',
  'failed_before',
  'in_service',
  'watched_from',
  'ended',
  'batch',
] as const

/** One of the known columns. */
export type ColumnName = (typeof COLUMN_NAMES)[number]

/** Place of each known column in a row, from 0; −1 where the file does not have it. */
export type Columns = Readonly<Record<ColumnName | 'group', number>>

/** How columns are found. */
export interface ColumnChoice {
  /** Header by known name, where it differs: `--column name=header`. */
  readonly named: Readonly<Partial<Record<ColumnName, string>>>
  /** Header of the column that makes groups; null: `model` if there is one; 'none': one group. */
  readonly groupBy: string | null
}

/**
 * Reads `--column name=header`, as often as it is given.
 *
 * @param given - each `name=header`
 * @returns header by name
 * @throws UsageError for a name that is not known
 * @example readColumnOptions(['end_age=Age at end']) // { end_age: 'Age at end' }
 */
export function readColumnOptions(given: readonly string[]): Partial<Record<ColumnName, string>> {
  const named: Partial<Record<ColumnName, string>> = {}
  for (const text of given) {
    const at = text.indexOf('=')
    const name = COLUMN_NAMES.find(known => known === text.slice(0, at))
    if (at < 1 || name === undefined) {
      const guess = nearest(text.slice(0, Math.max(at, 0)), COLUMN_NAMES)
      throw new UsageError(
        `--column ${text}: write name=header, where name is one of ${COLUMN_NAMES.join(', ')}${guess === null ? '' : `; did you mean "${guess}"?`}`,
      )
    }
    named[name] = text.slice(at + 1)
  }
  return named
}

/**
 * Finds the columns by their headers, in any order; capitals and blanks around do not matter.
 *
 * @param file - as the user named it
 * @param headers - the first line
 * @param choice - other headers, grouping
 * @returns the columns, and all that is wrong with the header
 */
export function findColumns(
  file: string,
  headers: readonly string[],
  choice: ColumnChoice,
): { columns: Columns; problems: Problem[] } {
  const problems: Problem[] = []
  const say = (key: string, message: string): void => {
    problems.push({ file, line: 1, column: null, key, message })
  }
  const plain = headers.map(header => header.trim().toLowerCase())
  plain.forEach((header, index) => {
    if (header !== '' && plain.indexOf(header) !== index) {
      say(header, `the header "${header}" occurs twice; rename or remove one of the two columns`)
    }
  })
  const find = (header: string): number => plain.indexOf(header.trim().toLowerCase())
  const columns = { group: -1 } as Record<ColumnName | 'group', number> // every name is filled in by the loop
  for (const name of COLUMN_NAMES) {
    const header = choice.named[name]
    columns[name] = find(header ?? name)
    if (header !== undefined && columns[name] < 0) {
      say(name, `--column says its header is "${header}", but the file has ${list(headers)}`)
    }
  }
  if (choice.groupBy === null) columns.group = columns.model
  else if (choice.groupBy !== 'none') {
    columns.group = find(choice.groupBy)
    if (columns.group < 0) say(choice.groupBy, `--by names this column, but the file has ${list(headers)}`)
  }
  for (const problem of missingColumns(columns, headers, choice)) say(...problem)
  return { columns, problems }
}

function missingColumns(
  columns: Columns,
  headers: readonly string[],
  choice: ColumnChoice,
): [key: string, message: string][] {
  const missing: [string, string][] = []
  const hasAges = columns.end_age >= 0
  const hasDates = columns.in_service >= 0 && columns.ended >= 0
  const hasBetween = columns.failed_before >= 0
  const hint = (name: ColumnName): string => {
    const spare = headers.filter(header => !COLUMN_NAMES.some(known => known === header.trim().toLowerCase()))
    const guess = nearest(name, spare)
    return guess === null ? '' : ` (if "${guess}" is it, add --column "${name}=${guess}")`
  }
  if (!hasAges && !hasDates && !hasBetween) {
    missing.push([
      'end_age',
      `the file has no ages: give a column end_age, or in_service and ended with dates, or failed_before; it has ${list(headers)}${hint('end_age')}`,
    ])
  }
  if (columns.outcome < 0 && choice.named.outcome === undefined && !(hasBetween && !hasAges && !hasDates)) {
    missing.push([
      'outcome',
      `the file has no column outcome with "failed" or "working"; it has ${list(headers)}${hint('outcome')}`,
    ])
  }
  return missing
}

function list(headers: readonly string[]): string {
  return headers.length === 0 ? 'no columns' : headers.map(header => `"${header.trim()}"`).join(', ')
}
