/**
 * The Weibull distribution of a life, in the words of IEC 61649.
 *
 * @source W. WEIBULL (1951), "A statistical distribution function of wide applicability", J. Appl. Mech. 18, 293–297
 */

import { power, square } from '../power.ts'
import { gammaFunction, lowerRegularisedGamma } from '../special.ts'

/** A Weibull life: shape β > 0 and characteristic life η > 0 in years (63.2 % have failed by then). */
export interface Weibull {
  /** β; under 1 the hazard falls with age, 1 constant, over 1 it rises. */
  readonly shape: number
  /** η, years. */
  readonly lifeYears: number
}

/**
 * How much hazard a unit has gone through by an age (M1).
 * H(t) = (t/lifeYears)^shape
 *
 * @param ageYears - >= 0
 * @param weibull - shape > 0; lifeYears > 0
 * @returns expected number of failures per slot under minimal repair, >= 0
 * @example weibullCumulativeHazard(5, { shape: 2, lifeYears: 10 }) // 0.25
 */
export function weibullCumulativeHazard(ageYears: number, weibull: Weibull): number {
  return power(ageYears / weibull.lifeYears, weibull.shape)
}

/**
 * Share of units still in service at an age (M1).
 * S(t) = exp(-(t/lifeYears)^shape)
 *
 * @param ageYears - >= 0
 * @param weibull - shape > 0; lifeYears > 0
 * @returns share, [0, 1]; 1 at age 0
 * @example survival(10, { shape: 2, lifeYears: 10 }) // 0.36788
 */
export function survival(ageYears: number, weibull: Weibull): number {
  return Math.exp(-weibullCumulativeHazard(ageYears, weibull))
}

/**
 * Failures per unit in service and year at an age.
 * h(t) = (shape/lifeYears)·(t/lifeYears)^(shape−1)
 *
 * @param ageYears - >= 0
 * @param weibull - shape > 0; lifeYears > 0
 * @returns rate per year, >= 0; Infinity at age 0 where shape < 1
 * @example hazard(5, { shape: 2, lifeYears: 10 }) // 0.1
 */
export function hazard(ageYears: number, weibull: Weibull): number {
  return (weibull.shape / weibull.lifeYears) * power(ageYears / weibull.lifeYears, weibull.shape - 1)
}

/**
 * The age by which a share of the units has failed.
 * t(p) = lifeYears·(−ln(1−p))^(1/shape)
 *
 * @param p - share, [0, 1]
 * @param weibull - shape > 0; lifeYears > 0
 * @returns age, years; 0 at 0, Infinity at 1
 * @throws RangeError outside [0, 1]
 * @example quantile(0.5, { shape: 2, lifeYears: 10 }) // 8.32555
 */
export function quantile(p: number, weibull: Weibull): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`quantile: p must be in [0, 1], got ${p}`)
  return weibull.lifeYears * power(-Math.log1p(-p), 1 / weibull.shape)
}

/**
 * Mean life of a new unit.
 * lifeYears·Γ(1 + 1/shape)
 *
 * @param weibull - shape >= 0.006 (beyond it the mean is no number); lifeYears > 0
 * @returns years
 * @example meanLife({ shape: 2, lifeYears: 10 }) // 8.86227
 */
export function meanLife(weibull: Weibull): number {
  return weibull.lifeYears * gammaFunction(1 + 1 / weibull.shape)
}

/**
 * Variance of the life of a new unit.
 * lifeYears²·(Γ(1 + 2/shape) − Γ(1 + 1/shape)²)
 *
 * @param weibull - shape >= 0.012; lifeYears > 0
 * @returns years²; relative error grows with the shape (the two terms cancel), 1e-6 at shape 1,000
 * @example variance({ shape: 1, lifeYears: 10 }) // 100
 */
export function variance(weibull: Weibull): number {
  const { shape, lifeYears } = weibull
  return lifeYears * lifeYears * (gammaFunction(1 + 2 / shape) - square(gammaFunction(1 + 1 / shape)))
}

/**
 * The age by which one unit in ten has failed (IEC 61649).
 *
 * @param weibull - shape > 0; lifeYears > 0
 * @returns years
 * @example b10({ shape: 2, lifeYears: 10 }) // 3.24593
 */
export function b10(weibull: Weibull): number {
  return quantile(0.1, weibull)
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
 * The life at which a given hazard has been gone through by a given age.
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

/** A point of a cumulative hazard: the age, and the hazard gone through by then (> 0). */
export interface HazardPoint {
  /** Years, > 0. */
  readonly ageYears: number
  /** Cumulative hazard, > 0. */
  readonly cumulativeHazard: number
}

/**
 * The Weibull life that goes through two points of the cumulative hazard (`failed_by` of a scenario).
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

/**
 * Share of units alive at an age that live on for some more years (M2).
 * S(age + further)/S(age)
 *
 * @param furtherYears - >= 0
 * @param ageYears - >= 0
 * @param weibull - shape > 0; lifeYears > 0
 * @returns share, [0, 1]
 * @example residualSurvival(5, 5, { shape: 2, lifeYears: 10 }) // 0.47237
 */
export function residualSurvival(furtherYears: number, ageYears: number, weibull: Weibull): number {
  return Math.exp(
    weibullCumulativeHazard(ageYears, weibull) - weibullCumulativeHazard(ageYears + furtherYears, weibull),
  )
}

/**
 * The further years after which a share of the units alive at an age has failed (M2).
 *
 * @param p - share, [0, 1]
 * @param ageYears - >= 0
 * @param weibull - shape > 0; lifeYears > 0
 * @returns years from that age, >= 0; Infinity at 1
 * @throws RangeError outside [0, 1]
 * @example residualQuantile(0.5, 5, { shape: 2, lifeYears: 10 }) // 4.711576
 */
export function residualQuantile(p: number, ageYears: number, weibull: Weibull): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`residualQuantile: p must be in [0, 1], got ${p}`)
  const reached = weibullCumulativeHazard(ageYears, weibull) - Math.log1p(-p)
  return Math.max(0, weibull.lifeYears * power(reached, 1 / weibull.shape) - ageYears)
}

/**
 * Mean further life of a unit alive at an age (C6).
 * ∫ S(age + x)/S(age) dx = (lifeYears/shape)·exp(x)·Γ(1/shape, x), x = H(age)
 *
 * @param ageYears - >= 0
 * @param weibull - shape >= 0.006; lifeYears > 0
 * @returns years, > 0; the mean life at age 0
 * @source M. ABRAMOWITZ, I. STEGUN (1964), Handbook of Mathematical Functions, 6.5.31 (continued fraction of Γ(a, x))
 * @example meanResidualLife(10, { shape: 1, lifeYears: 12 }) // 12
 */
export function meanResidualLife(ageYears: number, weibull: Weibull): number {
  const { shape, lifeYears } = weibull
  const x = weibullCumulativeHazard(ageYears, weibull)
  const a = 1 / shape
  // 1 − P loses its digits in the tail; the continued fraction gains speed there.
  if (x < a + 1) return meanLife(weibull) * Math.exp(x) * (1 - lowerRegularisedGamma(a, x))
  return (lifeYears / shape) * power(x, a) * scaledUpperGamma(a, x)
}

/** exp(x)·x^(−a)·Γ(a, x) by its continued fraction (modified Lentz), for x >= a + 1. */
function scaledUpperGamma(a: number, x: number): number {
  let b = x + 1 - a
  let c = Number.POSITIVE_INFINITY
  let d = 1 / b
  let value = d
  for (let k = 1; k <= 10_000; k++) {
    const numerator = -k * (k - a)
    b += 2
    d = 1 / (b + numerator * d)
    c = b + numerator / c
    value *= c * d
    if (Math.abs(c * d - 1) < 1e-15) return value
  }
  throw new RangeError(`meanResidualLife: no convergence at shape ${1 / a}, hazard ${x}`)
}
