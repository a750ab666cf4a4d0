import type { HourlyWeather, Location, RoofFigures } from '../../scenario/roof.ts'
import { DAYS_OF_MONTH, HOURS_PER_YEAR } from '../../units.ts'
import { hourlyDiffuseFraction } from './diffuse-fraction.ts'
import { extraterrestrialNormalWM2 } from './extraterrestrial.ts'
import { type SkyStep, type SkyYear, skyColumns } from './sky-columns.ts'
import { boundedDiffuse } from './sun-bounds.ts'
import { declination, RADIANS_PER_DEGREE, solarTimeHours, sunDirection } from './sun-position.ts'
import { typicalAirC } from './typical-air.ts'

/**
 * A year of light read from an hourly file (E7); the sun is placed where it is in the middle of each hour.
 *
 * @param location - latitude, and monthly air temperatures where the file has none
 * @param weather - 8,760 hours from the first of January
 * @param figures - warmth of the day, for monthly air temperatures
 * @returns the year in the steps in which the sun is up
 */
export function hourlyYear(location: Location, weather: HourlyWeather, figures: RoofFigures): SkyYear {
  const latitude = location.latitudeDegrees * RADIANS_PER_DEGREE
  const steps: SkyStep[] = []
  for (let hour = 0; hour < HOURS_PER_YEAR; hour++) {
    const ghiWM2 = weather.ghiWM2[hour] ?? 0
    const day = Math.floor(hour / 24) + 1
    const clockHour = (hour % 24) + 0.5
    const { clock } = weather
    const solarHour =
      clock === null ? clockHour : solarTimeHours(clockHour, day, clock.longitudeDegrees, clock.utcOffsetHours)
    const sun = declination(day + clockHour / 24)
    const direction = sunDirection(latitude, sun, (solarHour - 12) * 15 * RADIANS_PER_DEGREE)
    if (ghiWM2 <= 0 || direction.cosZenith <= 0) continue
    const normal = extraterrestrialNormalWM2(day)
    const month = monthOfDay(day)
    steps.push({
      month,
      solarHour,
      hours: 1,
      slot: hour,
      cosZenith: direction.cosZenith,
      sunAzimuthDegrees: direction.azimuthDegrees,
      ghiWM2,
      dhiWM2: boundedDiffuse(
        ghiWM2,
        diffuseOf(weather, hour, ghiWM2, direction.cosZenith, normal),
        direction.cosZenith,
      ),
      extraterrestrialNormalWM2: normal,
      airC: weather.airC?.[hour] ?? monthlyAirC(location, month) + figures.daytimeWarmerK,
    })
  }
  return skyColumns('hourly', steps)
}

function diffuseOf(weather: HourlyWeather, hour: number, ghiWM2: number, cosZenith: number, normalWM2: number): number {
  const diffuse = weather.dhiWM2?.[hour]
  if (diffuse !== undefined) return diffuse
  const direct = weather.dniWM2?.[hour]
  if (direct !== undefined) return ghiWM2 - direct * cosZenith
  return ghiWM2 * hourlyDiffuseFraction(ghiWM2 / (normalWM2 * cosZenith))
}

function monthlyAirC(location: Location, month: number): number {
  return location.airC?.[month] ?? typicalAirC(location.latitudeDegrees, month)
}

function monthOfDay(dayOfYear: number): number {
  let left = dayOfYear
  for (let month = 0; month < DAYS_OF_MONTH.length; month++) {
    left -= DAYS_OF_MONTH[month] ?? 0
    if (left <= 0) return month
  }
  return DAYS_OF_MONTH.length - 1
}
