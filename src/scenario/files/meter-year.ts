import { InputError, type Problem } from '../../errors.ts'
import { type CsvTable, readCsv } from '../../input/csv.ts'
import { nearest } from '../../input/problems.ts'
import type { MeterFile } from '../schema/meter-file.ts'
import { type EnergyUnit, energyUnit } from './energy-unit.ts'
import { withoutGaps } from './fill-gaps.ts'
import { meansOfHours, yearOfHours } from './year-of-hours.ts'

/** Most problems of a file reported at once, and the largest energy of an hour, kWh; ours. */
const MAX_REPORTED = 5
const MAX_KWH = 1e7

/** Cells that say that nothing was measured. */
const NOTHING = /^(|-+|n\/?a|nan|null|missing)$/i

/** A year of energy read from a file. */
export interface MeterYear {
  /** 8,760 hours from 1 January, kWh. */
  readonly kwh: Float64Array
  /** What the reader has to know of how it was read. */
  readonly notes: readonly string[]
}

/**
 * A year of energy from CSV text, as meters and inverters write it: hours, half-hours or quarter-hours; with
 * dates or without; kWh, Wh, MWh, kW or W by the header; one column, or one less another.
 *
 * @param text - the whole file
 * @param meter - name for messages, and which columns
 * @throws InputError with what is wrong: no column, no year, cells that are no numbers, too many gaps
 */
export function meterYear(text: string, meter: MeterFile): MeterYear {
  const { file } = meter
  const table = readCsv(text, file)
  const column = columnOf(table, meter.column, file)
  const minus = meter.minus === null ? null : columnOf(table, meter.minus, file)
  const year = yearOfHours(table)
  if (typeof year === 'string') throw refused(file, null, year)
  const notes = [column, ...(minus === null ? [] : [minus])]
    .filter(({ unit }) => unit === null)
    .map(({ name }) => `${file}: the column ${name} names no unit; it is taken as kWh.`)
  const cells = [cellsOf(table, column, file), ...(minus === null ? [] : [cellsOf(table, minus, file)])]
  const net = Float64Array.from(table.rows, (_, row) => (cells[0]?.[row] ?? 0) - (cells[1]?.[row] ?? 0))
  // Power is averaged over the hour, energy added up from the mean of its steps.
  const steps = column.unit?.power === true ? 1 : year.rowsAnHour
  const filled = withoutGaps(
    meansOfHours(year, net).map(mean => mean * steps),
    file,
  )
  if (typeof filled === 'string') throw refused(file, null, filled)
  const backwards = filled.hours.reduce((sum, kwh) => sum + (kwh < 0 ? 1 : 0), 0)
  if (backwards > 0) notes.push(`${file}: ${backwards} hours are below zero and are taken as 0.`)
  return { kwh: filled.hours.map(kwh => Math.max(0, kwh)), notes: [...notes, ...filled.notes] }
}

interface Column {
  readonly name: string
  readonly unit: EnergyUnit | null
}

/** The column named, in any case of letters; else the one called kwh, else the only one with a unit. */
function columnOf(table: CsvTable, wanted: string | null, file: string): Column {
  const { columns } = table
  const found = `found ${columns.join(', ')}`
  if (wanted !== null) {
    const name = columns.find(column => column.toLowerCase() === wanted.trim().toLowerCase())
    if (name !== undefined) return { name, unit: energyUnit(name) }
    const meant = nearest(wanted, columns)
    throw refused(file, 1, `there is no column "${wanted}"; ${meant === null ? found : `is it "${meant}"?`}`)
  }
  const plain = columns.find(column => column.toLowerCase() === 'kwh')
  const named = plain === undefined ? columns.filter(column => energyUnit(column) !== null) : [plain]
  const [name, second] = named
  if (name === undefined)
    throw refused(file, 1, `no column names kWh, Wh, kW or W; ${found}. Write  {file: ${file}, column: NAME}`)
  if (second !== undefined)
    throw refused(
      file,
      1,
      `several columns hold energy: ${named.join(', ')}. Write  {file: ${file}, column: ${name}}, and minus: for one to take off`,
    )
  return { name, unit: energyUnit(name) }
}

/** The cells of a column in kWh, or kW of power; NaN where nothing was measured. */
function cellsOf(table: CsvTable, { name, unit }: Column, file: string): Float64Array {
  const problems: Problem[] = []
  const cells = table.rows.map(({ cells: row, line }) => {
    const cell = row[name] ?? ''
    if (NOTHING.test(cell)) return Number.NaN
    const value = Number(/^-?\d+,\d+$/.test(cell) ? cell.replace(',', '.') : cell) * (unit?.kwh ?? 1)
    if (Number.isFinite(value) && Math.abs(value) <= MAX_KWH) return value
    if (problems.length < MAX_REPORTED)
      problems.push({
        file,
        line,
        column: null,
        key: '',
        message: `${name}: found "${cell}"; allowed: a number, or nothing where none was measured`,
      })
    return Number.NaN
  })
  if (problems.length > 0) throw new InputError(problems)
  return Float64Array.from(cells)
}

function refused(file: string, line: number | null, message: string): InputError {
  return new InputError([{ file, line, column: null, key: '', message }])
}
