import { InputError, type Problem } from '../../errors.ts'
import { readCsv } from '../../input/csv.ts'
import { nearest } from '../../input/problems.ts'
import { withoutGaps } from './fill-gaps.ts'
import { meansOfHours, yearOfHours } from './year-of-hours.ts'

/** Most problems of a file reported at once; ours. */
const MAX_REPORTED = 5

/** A column of an hourly file. */
export interface HourlyColumn {
  readonly name: string
  readonly needed: boolean
  readonly min: number
  readonly max: number
}

/** Columns of a year as read. */
export interface HourlyColumns {
  /** 8,760 values for each column that the file has. */
  readonly columns: ReadonlyMap<string, Float64Array>
  /** What the reader has to know of how they were read. */
  readonly notes: readonly string[]
}

/**
 * Columns of a year from CSV text (E7): hours, half-hours or quarter-hours, with dates or from the first of 1 January;
 * the steps of an hour are averaged, a few hours that are missing are filled from the days around. Other columns are
 * skipped; the case of letters does not matter.
 *
 * @param text - the whole file
 * @param file - name for messages
 * @param columns - what is read
 * @throws InputError where a needed column is missing, the rows are not a year, or a cell is no number within its bounds
 */
export function readHourlyCsv(text: string, file: string, columns: readonly HourlyColumn[]): HourlyColumns {
  const table = readCsv(text, file)
  const problems: Problem[] = []
  const add = (line: number | null, message: string): void => {
    if (problems.length < MAX_REPORTED) problems.push({ file, line, column: null, key: '', message })
  }
  const found = (name: string) => table.columns.find(column => column.toLowerCase() === name)
  for (const { name, needed } of columns) {
    if (!needed || found(name) !== undefined) continue
    const meant = nearest(name, table.columns)
    add(
      1,
      `there is no column "${name}"; ${meant === null ? `found ${table.columns.join(', ')}` : `is it "${meant}"?`}`,
    )
  }
  const year = yearOfHours(table)
  if (typeof year === 'string') add(null, year)
  if (problems.length > 0 || typeof year === 'string') throw new InputError(problems)
  const read = new Map<string, Float64Array>()
  const notes: string[] = []
  for (const { name, min, max } of columns) {
    const column = found(name)
    if (column === undefined) continue
    const values = table.rows.map(({ cells, line }) => {
      const cell = cells[column] ?? ''
      if (cell === '') return Number.NaN
      const value = Number(cell)
      if (!(value >= min && value <= max))
        add(line, `${name}: found "${cell}"; allowed: a number from ${min} to ${max}`)
      return value
    })
    if (problems.length > 0) continue
    const filled = withoutGaps(meansOfHours(year, values), `${file}, ${name}`)
    if (typeof filled === 'string') add(null, filled)
    else {
      read.set(name, filled.hours)
      notes.push(...filled.notes)
    }
  }
  if (problems.length > 0) throw new InputError(problems)
  return { columns: read, notes }
}
