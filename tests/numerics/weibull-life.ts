/**
 * The Weibull distribution of a life in closed form: what lives, hazards and tables of the program are compared with.
 *
 * @source W. WEIBULL (1951), "A statistical distribution function of wide applicability", J. Appl. Mech. 18, 293–297
 */

import type { Weibull } from '../../src/numerics/lives/weibull.ts'
import { power, square } from '../../src/numerics/power.ts'
import { gammaFunction, lowerRegularisedGamma } from '../../src/numerics/special.ts'

/**
 * Cumulative hazard of a unit by an age (M1).
 * H(t) = (t/lifeYears)^shape
 *
 * @param ageYears - >= 0
 * @param weibull - shape > 0; lifeYears > 0
 * @returns expected number of failures per slot under minimal repair, >= 0
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
 */
export function b10(weibull: Weibull): number {
  return quantile(0.1, weibull)
}

/**
 * Share of units alive at an age that live on for some more years (M2).
 * S(age + further)/S(age)
 *
 * @param furtherYears - >= 0
 * @param ageYears - >= 0
 * @param weibull - shape > 0; lifeYears > 0
 * @returns share, [0, 1]
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
