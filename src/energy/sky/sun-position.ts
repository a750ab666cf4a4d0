/**
 * Position of the sun: declination, equation of time and distance by Spencer's series, height and bearing by
 * spherical trigonometry (E1).
 */

import { square } from '../../numerics/power.ts'

/** Radians of a degree. */
export const RADIANS_PER_DEGREE = Math.PI / 180

/** The sun seen from the ground. */
export interface SunDirection {
  /** Cosine of the angle from the vertical, [-1, 1]; below 0 the sun is down. */
  readonly cosZenith: number
  /** Bearing in degrees clockwise from north, [0, 360). */
  readonly azimuthDegrees: number
}

/**
 * Declination of the sun: how far north of the equator it is overhead (E1).
 *
 * @param dayOfYear - 1 for the first of January; with a fraction of a day, universal time
 * @returns declination in radians, about ±0.409
 * @source Spencer (1971), Fourier series representation of the position of the sun, Search 2(5), 172
 * @example declination(172) // 0.40931, that is 23.452 degrees
 */
export function declination(dayOfYear: number): number {
  const g = dayAngle(dayOfYear)
  return (
    0.006918 -
    0.399912 * Math.cos(g) +
    0.070257 * Math.sin(g) -
    0.006758 * Math.cos(2 * g) +
    0.000907 * Math.sin(2 * g) -
    0.002697 * Math.cos(3 * g) +
    0.00148 * Math.sin(3 * g)
  )
}

/**
 * Sundial time less mean time (E1).
 *
 * @param dayOfYear - 1 for the first of January; with a fraction of a day
 * @returns minutes, between about −15 and 17
 * @source Spencer (1971), as above; 229.2 minutes a radian as printed in Duffie and Beckman (2013), equation 1.5.3
 */
export function equationOfTimeMinutes(dayOfYear: number): number {
  const g = dayAngle(dayOfYear)
  return (
    229.2 *
    (0.000075 +
      0.001868 * Math.cos(g) -
      0.032077 * Math.sin(g) -
      0.014615 * Math.cos(2 * g) -
      0.04089 * Math.sin(2 * g))
  )
}

/**
 * Sundial time of a clock time (E1); 12 is when the sun is highest.
 *
 * @param clockHours - local standard time, hours
 * @param dayOfYear - 1 for the first of January
 * @param longitudeDegrees - east positive
 * @param utcOffsetHours - hours by which standard time is ahead of universal time
 * @returns hours of solar time
 */
export function solarTimeHours(
  clockHours: number,
  dayOfYear: number,
  longitudeDegrees: number,
  utcOffsetHours: number,
): number {
  return clockHours + longitudeDegrees / 15 - utcOffsetHours + equationOfTimeMinutes(dayOfYear) / 60
}

/**
 * Height and bearing of the sun (E1).
 *
 * @param latitude - radians, north positive
 * @param declination - radians
 * @param hourAngle - radians, 0 at noon, positive after it
 * @returns position of the sun
 * @source spherical trigonometry; Duffie and Beckman (2013), Solar Engineering of Thermal Processes, section 1.6
 */
export function sunDirection(latitude: number, declination: number, hourAngle: number): SunDirection {
  const east = -Math.cos(declination) * Math.sin(hourAngle)
  const north =
    Math.sin(declination) * Math.cos(latitude) - Math.cos(declination) * Math.sin(latitude) * Math.cos(hourAngle)
  const up =
    Math.sin(declination) * Math.sin(latitude) + Math.cos(declination) * Math.cos(latitude) * Math.cos(hourAngle)
  const azimuth = Math.atan2(east, north) / RADIANS_PER_DEGREE
  return { cosZenith: up, azimuthDegrees: azimuth < 0 ? azimuth + 360 : azimuth }
}

/**
 * Cosine of the angle between the sun and the direction a plane faces (E1).
 *
 * @param sun - position of the sun
 * @param tilt - radians from flat
 * @param azimuthDegrees - bearing of the plane, degrees clockwise from north
 * @returns [-1, 1]; below 0 the sun is behind the plane
 */
export function cosIncidence(sun: SunDirection, tilt: number, azimuthDegrees: number): number {
  const sinZenith = Math.sqrt(Math.max(0, 1 - square(sun.cosZenith)))
  const turn = (sun.azimuthDegrees - azimuthDegrees) * RADIANS_PER_DEGREE
  return sun.cosZenith * Math.cos(tilt) + sinZenith * Math.sin(tilt) * Math.cos(turn)
}

function dayAngle(dayOfYear: number): number {
  return (2 * Math.PI * (dayOfYear - 1)) / 365
}
