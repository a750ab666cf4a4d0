import { sumOf } from '../../numerics/sum.ts'
import { DAYS_OF_MONTH } from '../../units.ts'
import type { Note } from '../model/assumption.ts'
import type { Location } from '../roof.ts'

/** Degrees of latitude within which rain, not the height of the sun, may set the brightest months: ours. */
const SEASONS_FROM_DEGREES = 25

/** The three months about each solstice, 0 = January. */
const JUNE = [4, 5, 6] as const
const DECEMBER = [10, 11, 0] as const

/**
 * Whether the light given fits the place (E1): beyond 25 degrees of latitude, months about the local midwinter that are
 * brighter than those about midsummer come from a table of the other hemisphere or a wrong sign. A judgement, as the note says.
 *
 * @param location - latitude and sky
 * @returns one note, or none
 */
export function lightNotes(location: Location): Note[] {
  const { latitudeDegrees, sky } = location
  if (Math.abs(latitudeDegrees) < SEASONS_FROM_DEGREES || sky.form === 'climate') return []
  const months = sky.form === 'monthly' ? sky.ghiKwhM2Day : monthlyLight(sky.weather.ghiWM2)
  const [summer, winter] = latitudeDegrees > 0 ? [JUNE, DECEMBER] : [DECEMBER, JUNE]
  if (sum(months, winter) <= sum(months, summer)) return []
  const side = latitudeDegrees > 0 ? 'north' : 'south'
  const text =
    `The light is brightest in the winter of latitude ${latitudeDegrees}, which is ${side} of the equator. In our ` +
    `judgement the table belongs to the other half of the earth, or the latitude has the wrong sign.`
  return [{ code: 'light-peaks-in-winter', text, option: null }]
}

/** Mean light of each month of an hourly year. */
function monthlyLight(hourly: Float64Array): number[] {
  let hour = 0
  return DAYS_OF_MONTH.map(days => {
    const hours = hourly.subarray(hour, hour + days * 24)
    hour += days * 24
    return sumOf(hours) / days
  })
}

function sum(months: readonly number[], which: readonly number[]): number {
  return which.reduce((total, month) => total + (months[month] ?? 0), 0)
}
