import type { Location, RoofFigures } from '../scenario/roof.ts'
import { hourlyYear } from './hourly-year.ts'
import { syntheticYear } from './synthetic-year.ts'

/**
 * A year of light on the flat, in steps in which the sun is up: every column has one value a step. Hours are solar
 * time (E1).
 */
export interface SkyYear {
  /** Built from monthly figures, or read from an hourly file (E7). */
  readonly form: 'synthetic' | 'hourly'
  readonly nSteps: number
  /** Calendar month, 0 = January. */
  readonly month: Uint8Array
  /** Middle of the step, hours of solar time. */
  readonly solarHour: Float64Array
  /** How many hours of the year the step stands for. */
  readonly hours: Float64Array
  /** Which day of the month the step belongs to (synthetic, from 0), or which hour of the year (hourly, from 0). */
  readonly slot: Uint16Array
  readonly cosZenith: Float64Array
  readonly sunAzimuthDegrees: Float64Array
  readonly globalWM2: Float64Array
  readonly diffuseWM2: Float64Array
  readonly extraterrestrialNormalWM2: Float64Array
  readonly airC: Float64Array
}

/** Days that stand for a month in a built year; ours: clipping of 0 to 6 % comes within 0.03 points of what 60 give. */
export const DAYS_IN_MONTH = 15

/** Sine of the height under which the sun's disc is not counted as such, 3 degrees: ours, as roofs and trees stand there. */
export const LOWEST_SUN = Math.sin((3 * Math.PI) / 180)

/** Most light from the sun's disc that reaches the ground, W/m²: ours, a bound against faulty splits. */
export const MOST_DIRECT_WM2 = 1100

/**
 * A year of light at a place, from the best that is known of it (E1, E7).
 *
 * @param location - where, and what is known of its sky
 * @param figures - figures of the chain
 * @returns the year in steps
 */
export function skyYear(location: Location, figures: RoofFigures): SkyYear {
  return location.sky.form === 'hourly'
    ? hourlyYear(location, location.sky.weather, figures)
    : syntheticYear(location, figures)
}

/**
 * Diffuse light after the two bounds on the sun's disc: low sun counts as diffuse, and no more than `MOST_DIRECT_WM2`
 * comes from the disc.
 *
 * @param globalWM2 - light on the flat
 * @param diffuseWM2 - diffuse part before the bounds
 * @param cosZenith - of the sun, > 0
 * @returns W/m², [0, globalWM2]
 */
export function boundedDiffuse(globalWM2: number, diffuseWM2: number, cosZenith: number): number {
  if (cosZenith < LOWEST_SUN) return globalWM2
  return Math.min(globalWM2, Math.max(0, diffuseWM2, globalWM2 - MOST_DIRECT_WM2 * cosZenith))
}
