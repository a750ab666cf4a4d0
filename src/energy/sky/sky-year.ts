import type { Location, RoofFigures } from '../../scenario/roof.ts'
import { hourlyYear } from './hourly-year.ts'
import type { SkyYear } from './sky-columns.ts'
import { syntheticYear } from './synthetic-year.ts'

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
