import { InputError, type Problem } from '../errors.ts'
import { readCsv } from '../input/csv.ts'
import { nearest } from '../input/problems.ts'
import { HOURS_PER_YEAR } from '../units.ts'

/** Hours before the 29th of February, and in a year that has one. */
const LEAP_DAY_START = 59 * 24
const LEAP_YEAR_HOURS = HOURS_PER_YEAR + 24

/** Most problems of a file told at once; ours. */
const MAX_TOLD = 5

/** A column of an hourly file. */
export interface HourlyColumn {
  readonly name: string
  readonly needed: boolean
  readonly min: number
  readonly max: number
}

/**
 * Columns of an hourly year from CSV text (E7): 8,760 rows from the first hour of 1 January; of 8,784 rows the 29th of
 * February is left out. Other columns are skipped.
 *
 * @param text - the whole file
 * @param file - name for messages
 * @param columns - what is read
 * @returns 8,760 values for each column that the file has
 * @throws InputError where a needed column is missing, the rows are not a year, or a cell is no number within its bounds
 */
export function readHourlyCsv(
  text: string,
  file: string,
  columns: readonly HourlyColumn[],
): ReadonlyMap<string, Float64Array> {
  const table = readCsv(text, file)
  const problems: Problem[] = []
  const add = (line: number | null, message: string): void => {
    if (problems.length < MAX_TOLD) problems.push({ file, line, column: null, key: '', message })
  }
  for (const { name, needed } of columns) {
    if (!needed || table.columns.includes(name)) continue
    const meant = nearest(name, table.columns)
    add(
      1,
      `there is no column "${name}"; ${meant === null ? `found ${table.columns.join(', ')}` : `is it "${meant}"?`}`,
    )
  }
  const nRows = table.rows.length
  if (nRows !== HOURS_PER_YEAR && nRows !== LEAP_YEAR_HOURS)
    add(null, `found ${nRows} hours; allowed: 8760, or 8784 with a 29 February`)
  if (problems.length > 0) throw new InputError(problems)
  const rows =
    nRows === HOURS_PER_YEAR
      ? table.rows
      : table.rows.filter((_, hour) => hour < LEAP_DAY_START || hour >= LEAP_DAY_START + 24)
  const read = new Map<string, Float64Array>()
  for (const { name, min, max } of columns) {
    if (!table.columns.includes(name)) continue
    const values = rows.map(({ cells, line }) => {
      const cell = cells[name] ?? ''
      const value = cell === '' ? Number.NaN : Number(cell)
      if (!(value >= min && value <= max))
        add(line, `${name}: found "${cell}"; allowed: a number from ${min} to ${max}`)
      return value
    })
    read.set(name, Float64Array.from(values))
  }
  if (problems.length > 0) throw new InputError(problems)
  return read
}
