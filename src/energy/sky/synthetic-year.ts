import type { Location, RoofFigures } from '../../scenario/roof.ts'
import { DAYS_OF_MONTH, MONTHS_PER_YEAR } from '../../units.ts'
import { clearnessOfDays } from './daily-clearness.ts'
import { hourlyDiffuseShare, hourlyGlobalShare } from './daily-profile.ts'
import { dailyDiffuseFraction } from './diffuse-fraction.ts'
import {
  dailyExtraterrestrialKwhM2,
  extraterrestrialNormalWM2,
  REPRESENTATIVE_DAYS,
  sunsetHourAngle,
} from './extraterrestrial.ts'
import { DAYS_IN_MONTH, type SkyStep, type SkyYear, skyColumns } from './sky-columns.ts'
import { boundedDiffuse } from './sun-bounds.ts'
import { declination, RADIANS_PER_DEGREE, sunDirection } from './sun-position.ts'
import { typicalAirC } from './typical-air.ts'

const STEP_HOURS = 0.5

/**
 * A year of clear and dull days built from monthly light, or from a typical climate (E1): twelve months × 15 days of
 * different clearness × half-hours. The light of each month is kept exactly.
 *
 * @param location - latitude, and monthly light or a climate
 * @param figures - clearness of the climates, warmth of the day
 * @returns the year in steps in which the sun is up
 */
export function syntheticYear(location: Location, figures: RoofFigures): SkyYear {
  const steps: SkyStep[] = []
  for (let month = 0; month < MONTHS_PER_YEAR; month++) addMonth(steps, month, location, figures)
  return skyColumns('synthetic', steps)
}

/** One half-hour of a month: the same for all its days but for the light. */
interface HalfHour {
  readonly solarHour: number
  readonly cosZenith: number
  readonly sunAzimuthDegrees: number
  readonly globalShare: number
  readonly diffuseShare: number
}

function addMonth(steps: SkyStep[], month: number, location: Location, figures: RoofFigures): void {
  const latitude = location.latitudeDegrees * RADIANS_PER_DEGREE
  const day = REPRESENTATIVE_DAYS[month] ?? 1
  const sun = declination(day)
  const sunset = sunsetHourAngle(latitude, sun)
  const normal = extraterrestrialNormalWM2(day)
  const above = dailyExtraterrestrialKwhM2(latitude, sun, normal)
  const halfHours = halfHoursOf(latitude, sun, sunset)
  if (above <= 0 || halfHours.length === 0) return
  const airC = (location.airC?.[month] ?? typicalAirC(location.latitudeDegrees, month)) + figures.daytimeWarmerK
  clearnessOfDays(meanClearness(location, month, above, figures), DAYS_IN_MONTH).forEach((clearness, slot) => {
    const globalKwh = clearness * above
    const diffuseKwh = globalKwh * dailyDiffuseFraction(clearness, sunset)
    for (const half of halfHours) {
      const ghiWM2 = (globalKwh * half.globalShare * 1000) / STEP_HOURS
      const dhiWM2 = (diffuseKwh * half.diffuseShare * 1000) / STEP_HOURS
      steps.push({
        month,
        solarHour: half.solarHour,
        hours: (STEP_HOURS * (DAYS_OF_MONTH[month] ?? 0)) / DAYS_IN_MONTH,
        slot,
        cosZenith: half.cosZenith,
        sunAzimuthDegrees: half.sunAzimuthDegrees,
        ghiWM2,
        dhiWM2: boundedDiffuse(ghiWM2, dhiWM2, half.cosZenith),
        extraterrestrialNormalWM2: normal,
        airC,
      })
    }
  })
}

function meanClearness(location: Location, month: number, above: number, figures: RoofFigures): number {
  const { sky } = location
  if (sky.form === 'monthly') return (sky.ghiKwhM2Day[month] ?? 0) / above
  if (sky.form === 'climate') return figures.climateClearness[sky.climate]
  throw new RangeError('an hourly sky is not built from months')
}

/** Half-hours with the sun up; their shares of the day's light sum to 1. */
function halfHoursOf(latitude: number, sun: number, sunset: number): HalfHour[] {
  const halves: HalfHour[] = []
  for (let i = 0; i < 24 / STEP_HOURS; i++) {
    const solarHour = (i + 0.5) * STEP_HOURS
    const hourAngle = (solarHour - 12) * 15 * RADIANS_PER_DEGREE
    if (Math.abs(hourAngle) >= sunset) continue
    const direction = sunDirection(latitude, sun, hourAngle)
    if (direction.cosZenith <= 0) continue
    halves.push({
      solarHour,
      cosZenith: direction.cosZenith,
      sunAzimuthDegrees: direction.azimuthDegrees,
      globalShare: hourlyGlobalShare(hourAngle, sunset),
      diffuseShare: hourlyDiffuseShare(hourAngle, sunset),
    })
  }
  const globalSum = halves.reduce((sum, half) => sum + half.globalShare, 0)
  const diffuseSum = halves.reduce((sum, half) => sum + half.diffuseShare, 0)
  return halves.map(half => ({
    ...half,
    globalShare: half.globalShare / globalSum,
    diffuseShare: half.diffuseShare / diffuseSum,
  }))
}
