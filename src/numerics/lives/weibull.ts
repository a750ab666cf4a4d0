/**
 * The Weibull distribution of a life, in the words of IEC 61649.
 *
 * @source W. WEIBULL (1951), "A statistical distribution function of wide applicability", J. Appl. Mech. 18, 293–297
 */

import { power } from '../power.ts'
import { gammaFunction } from '../special.ts'

/** A Weibull life: shape β > 0 and characteristic life η > 0 in years (63.2 % have failed by then). */
export interface Weibull {
  /** β; under 1 the hazard falls with age, 1 constant, over 1 it rises. */
  readonly shape: number
  /** η, years. */
  readonly lifeYears: number
}

/**
 * The life whose B10 is the given one.
 *
 * @param b10Years - > 0
 * @param shape - > 0
 * @returns characteristic life, years
 * @example lifeFromB10(3.24593, 2) // 10
 */
export function lifeFromB10(b10Years: number, shape: number): number {
  return lifeFromPoint(b10Years, -Math.log1p(-0.1), shape)
}

/**
 * The life whose mean is the given one.
 *
 * @param meanYears - > 0
 * @param shape - >= 0.006
 * @returns characteristic life, years
 * @example lifeFromMean(8.86227, 2) // 10
 */
export function lifeFromMean(meanYears: number, shape: number): number {
  return meanYears / gammaFunction(1 + 1 / shape)
}

/**
 * The life with a given cumulative hazard at a given age.
 *
 * @param ageYears - > 0
 * @param hazardByThen - cumulative hazard at that age, > 0; −ln(1 − F) for a share F failed
 * @param shape - > 0
 * @returns characteristic life, years
 * @example lifeFromPoint(5, 0.25, 2) // 10
 */
export function lifeFromPoint(ageYears: number, hazardByThen: number, shape: number): number {
  return ageYears / power(hazardByThen, 1 / shape)
}

/** A point of a cumulative hazard function. */
export interface HazardPoint {
  /** Years, > 0. */
  readonly ageYears: number
  /** Cumulative hazard, > 0. */
  readonly cumulativeHazard: number
}

/**
 * The Weibull life through two points of the cumulative hazard (`failed_by` of a scenario).
 *
 * @param first - the earlier point
 * @param second - the later point: both age and hazard larger
 * @returns shape and life
 * @throws RangeError where age or hazard do not rise
 * @example fromTwoPoints({ ageYears: 5, cumulativeHazard: 0.25 }, { ageYears: 10, cumulativeHazard: 1 }) // { shape: 2, lifeYears: 10 }
 */
export function fromTwoPoints(first: HazardPoint, second: HazardPoint): Weibull {
  const rises = first.ageYears > 0 && first.cumulativeHazard > 0
  if (!(rises && second.ageYears > first.ageYears && second.cumulativeHazard > first.cumulativeHazard)) {
    throw new RangeError('fromTwoPoints: age and cumulative hazard must both rise from the first point to the second')
  }
  const shape = Math.log(second.cumulativeHazard / first.cumulativeHazard) / Math.log(second.ageYears / first.ageYears)
  return { shape, lifeYears: lifeFromPoint(first.ageYears, first.cumulativeHazard, shape) }
}
