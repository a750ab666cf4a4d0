import { DAYS_PER_YEAR, HOURS_PER_YEAR, MONTHS_PER_YEAR } from '../units.ts'

/** The unit in which ages of field records are given; a year is 365 days (T1). */
export const AGE_UNITS = ['hours', 'days', 'months', 'years'] as const

/** One of the units. */
export type AgeUnit = (typeof AGE_UNITS)[number]

const UNITS_PER_YEAR = {
  hours: HOURS_PER_YEAR,
  days: DAYS_PER_YEAR,
  months: MONTHS_PER_YEAR,
  years: 1,
} satisfies Record<AgeUnit, number>

/**
 * How many of a unit make a year of 365 days (T1).
 *
 * @param ageUnit - the unit
 * @returns > 0
 * @example unitsPerYear('days') // 365
 */
export function unitsPerYear(ageUnit: AgeUnit): number {
  return UNITS_PER_YEAR[ageUnit]
}
