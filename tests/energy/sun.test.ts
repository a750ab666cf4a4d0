import { describe, expect, test } from 'vitest'
import {
  dailyExtraterrestrialKwhM2,
  extraterrestrialNormalWM2,
  REPRESENTATIVE_DAYS,
  sunsetHourAngle,
} from '../../src/energy/sky/extraterrestrial.ts'
import {
  cosIncidence,
  declination,
  equationOfTimeMinutes,
  RADIANS_PER_DEGREE,
  solarTimeHours,
  sunDirection,
} from '../../src/energy/sky/sun-position.ts'
import reference from '../reference/solar.json' with { type: 'json' }

const degrees = (radians: number): number => radians / RADIANS_PER_DEGREE
const radians = (angle: number): number => angle * RADIANS_PER_DEGREE

/** Day of the year, from 1, with its fraction in universal time. */
function dayOf(utc: string): number {
  const time = new Date(utc)
  return (time.getTime() - Date.UTC(time.getUTCFullYear(), 0, 1)) / 86_400_000 + 1
}

function sunAt(utc: string, latitude: number, longitude: number): { zenith: number; azimuth: number } {
  const day = dayOf(utc)
  const clock = (day % 1) * 24
  const solar = solarTimeHours(clock, day, longitude, 0)
  const sun = sunDirection(radians(latitude), declination(day), radians((solar - 12) * 15))
  return { zenith: degrees(Math.acos(sun.cosZenith)), azimuth: sun.azimuthDegrees }
}

describe('E1 sun position', () => {
  test('declination and equation of time are those of the published series', () => {
    for (const day of reference.day_angle_series) {
      expect(degrees(declination(day.day_of_year))).toBeCloseTo(day.declination_spencer_deg, 6)
      expect(equationOfTimeMinutes(day.day_of_year)).toBeCloseTo(day.equation_of_time_min, 4)
    }
  })

  test('the published worked example (Reda and Andreas) is met within what a short series can', () => {
    const { inputs, published } = reference.reda_andreas_worked_example
    const sun = sunAt('2003-10-17T19:30:30Z', inputs.latitude_deg, inputs.longitude_deg_east)
    expect(Math.abs(90 - published.values.geometric_elevation_deg - sun.zenith)).toBeLessThan(0.15)
    expect(Math.abs(published.values.azimuth_deg_from_north - sun.azimuth)).toBeLessThan(0.15)
    const plane = { cosZenith: Math.cos(radians(sun.zenith)), azimuthDegrees: sun.azimuth }
    const incidence = degrees(
      Math.acos(cosIncidence(plane, radians(inputs.slope_deg), 180 + inputs.surface_azimuth_rotation_deg)),
    )
    expect(Math.abs(published.values.incidence_deg - incidence)).toBeLessThan(0.15)
  })

  test('an independent ephemeris is met within 0.3 degrees at five places and times', () => {
    for (const at of reference.sun_position_ephemeris) {
      const sun = sunAt(at.utc, at.latitude_deg, at.longitude_deg_east)
      expect(Math.abs(sun.zenith - at.geometric_zenith_deg)).toBeLessThan(0.3)
      // a small angle along the horizon is a smaller one on the sky
      const across = (sun.azimuth - at.azimuth_deg_from_north_clockwise) * Math.sin(radians(sun.zenith))
      expect(Math.abs(across)).toBeLessThan(0.3)
    }
  })

  test('zenith, bearing and incidence are those of the vector form', () => {
    for (const at of reference.incidence) {
      const cooper = radians(23.45) * Math.sin((2 * Math.PI * (284 + at.day_of_year)) / 365)
      const sun = sunDirection(radians(at.latitude_deg), cooper, radians((at.solar_time_h - 12) * 15))
      expect(degrees(Math.acos(sun.cosZenith))).toBeCloseTo(at.zenith_deg, 5)
      const facing = 180 + at.surface_azimuth_deg_west_positive_south_zero
      expect(degrees(Math.acos(cosIncidence(sun, radians(at.tilt_deg), facing)))).toBeCloseTo(at.incidence_deg, 5)
    }
  })
})

describe('E1 light above the air', () => {
  test('days, sunset and daily sums by latitude are those of the table', () => {
    for (const row of reference.monthly_extraterrestrial) {
      expect(row.mean_day_of_month).toEqual(REPRESENTATIVE_DAYS)
      row.declination_deg.forEach((sun, month) => {
        const latitude = radians(row.latitude_deg)
        const normal = extraterrestrialNormalWM2(REPRESENTATIVE_DAYS[month] ?? 0)
        expect(degrees(sunsetHourAngle(latitude, radians(sun)))).toBeCloseTo(row.sunset_hour_angle_deg[month] ?? -1, 5)
        expect(dailyExtraterrestrialKwhM2(latitude, radians(sun), normal) * 3.6).toBeCloseTo(
          row.H0_MJ_per_m2_day[month] ?? -1,
          5,
        )
      })
    }
  })

  test('FAO paper 56, example 8: 3 September at 20 south gives 32.2 MJ a day and a day of 11.7 hours', () => {
    const { latitude_deg, published } = reference.fao56_example_8
    // the example counts with a solar constant of 0.082 MJ/m² a minute
    const normal = (extraterrestrialNormalWM2(246) * (0.082e6 / 60)) / 1367
    const kwh = dailyExtraterrestrialKwhM2(radians(latitude_deg), published.values.declination_rad, normal)
    expect(kwh * 3.6).toBeCloseTo(published.values.Ra_MJ_per_m2_day, 1)
    const sunset = sunsetHourAngle(radians(latitude_deg), published.values.declination_rad)
    expect(sunset).toBeCloseTo(published.values.sunset_hour_angle_rad, 3)
    expect((24 / Math.PI) * sunsetHourAngle(radians(latitude_deg), published.values.declination_rad)).toBeCloseTo(
      11.66,
      2,
    )
  })
})
