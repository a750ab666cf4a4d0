import { InputError, type Problem } from '../../errors.ts'
import { DAYS_OF_MONTH, HOURS_PER_YEAR } from '../../units.ts'
import type { HourlyWeather } from '../roof.ts'

/** A weather file in the open EPW format. */
export interface EpwYear {
  readonly latitudeDegrees: number
  readonly weather: HourlyWeather
}

/** Lines before the hours. */
const HEADER_LINES = 8

/** Most problems of a file reported at once; ours. */
const MAX_REPORTED = 5

/** A column of an hour: its place from 0, what it is, its bounds, and the code by which the format says that it is missing. */
interface Column {
  readonly at: number
  readonly words: string
  readonly min: number
  readonly max: number
  readonly missing: number
}

/** Bounds are those of an hourly CSV, ours; codes of missing values are those of the format. Wh/m² equal mean W/m². */
const COLUMNS = {
  airC: { at: 6, words: 'air temperature', min: -90, max: 70, missing: 99.9 },
  ghiWM2: { at: 13, words: 'global horizontal irradiance', min: 0, max: 1500, missing: 9999 },
  dniWM2: { at: 14, words: 'direct normal irradiance', min: 0, max: 1500, missing: 9999 },
  dhiWM2: { at: 15, words: 'diffuse horizontal irradiance', min: 0, max: 1500, missing: 9999 },
} as const satisfies Record<string, Column>

const PLACE = [
  { at: 6, words: 'latitude', min: -90, max: 90 },
  { at: 7, words: 'longitude', min: -180, max: 180 },
  { at: 8, words: 'hours ahead of universal time', min: -12, max: 14 },
] as const

/** An hour of the file. */
interface Hour {
  readonly line: number
  readonly cells: readonly string[]
}

/**
 * A year of light and air from a file in the open EPW format (E7). Hours end at the stated hour in local standard time;
 * the 29th of February is left out. A column of air temperature, direct or diffuse light that is missing in every hour
 * counts as not there.
 *
 * @param text - the whole file
 * @param file - name for messages
 * @returns the year
 * @throws InputError with line and column where the text is no such file, its hours are not a year in order, or a value
 *   is missing or out of bounds
 * @source EnergyPlus documentation, Auxiliary programs, weather file data dictionary: columns, hours, codes of missing
 *   values
 */
export function readEpw(text: string, file: string): EpwYear {
  const problems: Problem[] = []
  const add = (line: number | null, message: string): void => {
    if (problems.length < MAX_REPORTED) problems.push({ file, line, column: null, key: '', message })
  }
  const lines = text.split(/\r?\n/)
  const head = lines[0]?.split(',') ?? []
  if (head[0] !== 'LOCATION') add(1, 'this is no file in EPW format; its first line begins with LOCATION')
  const [latitudeDegrees = 0, longitudeDegrees = 0, utcOffsetHours = 0] = PLACE.map(({ at, words, min, max }) => {
    const value = numberIn(head[at])
    if (!(value >= min && value <= max)) add(1, outside(words, at, head[at], min, max))
    return value
  })
  if (problems.length > 0) throw new InputError(problems)
  const hours = hoursIn(lines, add)
  if (problems.length > 0) throw new InputError(problems)
  const read = (column: Column): Float64Array => columnOf(hours, column, add)
  const ghiWM2 = read(COLUMNS.ghiWM2)
  const [dniWM2, dhiWM2, airC] = [COLUMNS.dniWM2, COLUMNS.dhiWM2, COLUMNS.airC].map(column =>
    hours.every(({ cells }) => numberIn(cells[column.at]) === column.missing) ? null : read(column),
  )
  if (problems.length > 0) throw new InputError(problems)
  return {
    latitudeDegrees,
    weather: {
      ghiWM2,
      dniWM2: dniWM2 ?? null,
      dhiWM2: dhiWM2 ?? null,
      airC: airC ?? null,
      clock: { longitudeDegrees, utcOffsetHours },
    },
  }
}

/** The 8,760 hours in order; the first that is not where it belongs is reported. */
function hoursIn(lines: readonly string[], add: (line: number | null, message: string) => void): Hour[] {
  const hours = lines
    .map((text, at): Hour => ({ line: at + 1, cells: text.split(',') }))
    .slice(HEADER_LINES)
    .filter(({ cells }) => cells.length > 1 || cells[0]?.trim() !== '')
    .filter(({ cells }) => !(Number(cells[1]) === 2 && Number(cells[2]) === 29))
  let at = 0
  for (const [month, days] of DAYS_OF_MONTH.entries()) {
    for (let day = 1; day <= days; day++) {
      for (let hour = 1; hour <= 24; hour++) {
        const found = hours[at++]
        if (found === undefined) continue
        const [, foundMonth, foundDay, foundHour] = found.cells.map(Number)
        if (foundMonth === month + 1 && foundDay === day && foundHour === hour) continue
        add(
          found.line,
          `found month ${foundMonth}, day ${foundDay}, hour ${foundHour}; month ${month + 1}, day ${day}, hour ${hour} is due. A year has 8,760 hours in order, 1 to 24 a day`,
        )
        return hours
      }
    }
  }
  if (hours.length !== HOURS_PER_YEAR)
    add(null, `found ${hours.length} hours; a year has 8,760, and 24 more with a 29 February`)
  return hours
}

function columnOf(
  hours: readonly Hour[],
  { at, words, min, max, missing }: Column,
  add: (line: number | null, message: string) => void,
): Float64Array {
  return Float64Array.from(hours, ({ line, cells }) => {
    const value = numberIn(cells[at])
    if (value === missing) {
      add(line, `${words} (column ${at + 1}): found ${missing}, which says missing; fill the gap, or take another file`)
    } else if (!(value >= min && value <= max)) add(line, outside(words, at, cells[at], min, max))
    return value
  })
}

function outside(words: string, at: number, found: string | undefined, min: number, max: number): string {
  return `${words} (column ${at + 1}): found "${found ?? ''}"; allowed: a number from ${min} to ${max}`
}

function numberIn(cell: string | undefined): number {
  return cell === undefined || cell.trim() === '' ? Number.NaN : Number(cell)
}
