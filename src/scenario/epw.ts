import type { HourlyWeather } from './roof.ts'

/** A weather file in the open EPW format. */
export interface EpwYear {
  readonly latitudeDegrees: number
  readonly weather: HourlyWeather
}

/** Lines before the hours. */
const HEADER_LINES = 8

/** Columns of an hour, from 0: hour energies in Wh/m² equal mean W/m² of the hour. */
const COLUMN = { month: 1, day: 2, airC: 6, global: 13, directNormal: 14, diffuse: 15 } as const

/**
 * A year of light and air from a file in the open EPW format (E7). Hours end at the stated hour in local standard time;
 * the 29th of February is left out.
 *
 * @param text - the whole file
 * @returns the year; null when the text is not such a file or has not 8,760 hours
 * @source EnergyPlus documentation, Auxiliary programs, weather file data dictionary
 */
export function readEpw(text: string): EpwYear | null {
  const lines = text.split(/\r?\n/)
  const place = lines[0]?.split(',') ?? []
  if (place[0] !== 'LOCATION') return null
  const [latitudeDegrees, longitudeDegrees, utcOffsetHours] = place.slice(6, 9).map(Number)
  const hours = lines
    .slice(HEADER_LINES)
    .filter(line => line.trim() !== '')
    .map(line => line.split(','))
    .filter(cells => !(Number(cells[COLUMN.month]) === 2 && Number(cells[COLUMN.day]) === 29))
  if (latitudeDegrees === undefined || longitudeDegrees === undefined || utcOffsetHours === undefined) return null
  const column = (index: number): Float64Array => Float64Array.from(hours, cells => Number(cells[index]))
  const weather: HourlyWeather = {
    globalWM2: column(COLUMN.global),
    directNormalWM2: column(COLUMN.directNormal),
    diffuseWM2: column(COLUMN.diffuse),
    airC: column(COLUMN.airC),
    clock: { longitudeDegrees, utcOffsetHours },
  }
  const numbers = [weather.globalWM2, weather.directNormalWM2, weather.diffuseWM2, weather.airC]
  const whole = hours.length === 8760 && numbers.every(values => values?.every(Number.isFinite))
  return whole && Number.isFinite(latitudeDegrees) ? { latitudeDegrees, weather } : null
}
