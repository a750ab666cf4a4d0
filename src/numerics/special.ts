/**
 * Special functions, from libraries that are accurate to 1e-9 (N2). The only file that imports them, so that one which
 * fails its test can be replaced here.
 */

import jstat from 'jstat'
import { gamma as libraryGamma, gammaln as libraryGammaLn, sampleRankCorrelation } from 'simple-statistics'
import { power } from './power.ts'

/**
 * The standard normal score below which a share lies.
 *
 * @param p - share, [0, 1]; exact to 1e-9 from 1e-8 to 1 − 1e-8, to 1e-5 beyond
 * @returns the score; −Infinity at 0, Infinity at 1
 * @throws RangeError outside [0, 1]
 * @example normalQuantile(0.9) // 1.2815515655446
 */
export function normalQuantile(p: number): number {
  requireShare('normalQuantile', p)
  if (p === 0) return Number.NEGATIVE_INFINITY
  if (p === 1) return Number.POSITIVE_INFINITY
  return jstat.normal.inv(p, 0, 1)
}

/**
 * The share of a standard normal below a score.
 *
 * @param score - any number
 * @returns share, [0, 1], absolute error under 1e-12
 * @example normalCdf(1.2815515655446004) // 0.9
 */
export function normalCdf(score: number): number {
  return jstat.normal.cdf(score, 0, 1)
}

/**
 * The gamma function.
 *
 * @param x - (0, 171]
 * @returns Γ(x), > 0
 * @throws RangeError outside (0, 171]
 * @example gammaFunction(1.5) // 0.88622692545276
 */
export function gammaFunction(x: number): number {
  if (!(x > 0 && x <= 171)) throw new RangeError(`gammaFunction: x must be in (0, 171], got ${x}`)
  // between whole numbers the library takes `Math.pow`, whose last bit changes with the version of Node
  return Number.isInteger(x) ? libraryGamma(x) : Math.exp(libraryGammaLn(x))
}

/**
 * The logarithm of the gamma function, where the function itself would overflow.
 *
 * @param x - > 0
 * @returns ln Γ(x)
 * @throws RangeError unless x > 0
 * @example gammaLn(10) // 12.801827480081
 */
export function gammaLn(x: number): number {
  if (!(x > 0)) throw new RangeError(`gammaLn: x must be > 0, got ${x}`)
  return libraryGammaLn(x)
}

/**
 * The share of a gamma variable of scale 1 below a value.
 * P(a, x) = γ(a, x) / Γ(a)
 *
 * @param a - shape, > 0
 * @param x - >= 0
 * @returns share, [0, 1]
 * @throws RangeError outside the domain
 * @example lowerRegularisedGamma(2, 3) // 0.80085172652854
 */
export function lowerRegularisedGamma(a: number, x: number): number {
  if (!(a > 0 && x >= 0)) throw new RangeError(`lowerRegularisedGamma: a must be > 0 and x >= 0, got ${a}, ${x}`)
  if (x === 0) return 0
  return x === Number.POSITIVE_INFINITY ? 1 : jstat.lowRegGamma(a, x)
}

/**
 * The value below which a share of a gamma variable lies.
 *
 * @param p - share, [0, 1)
 * @param shape - > 0
 * @param scale - > 0; the mean is shape · scale
 * @returns the value, >= 0; 0 where it is too small for a number
 * @throws RangeError outside the domain
 * @example gammaQuantile(0.5, 1, 5) // 3.4657359027997
 */
export function gammaQuantile(p: number, shape: number, scale: number): number {
  if (!(p >= 0 && p < 1 && shape > 0 && scale > 0)) {
    throw new RangeError(`gammaQuantile: p in [0, 1), shape and scale > 0, got ${p}, ${shape}, ${scale}`)
  }
  return p === 0 ? 0 : unitGammaQuantile(p, shape) * scale
}

/**
 * The value below which a share of a chi-square variable lies.
 *
 * @param p - share, [0, 1)
 * @param degreesOfFreedom - > 0
 * @returns the value, >= 0
 * @throws RangeError outside the domain
 * @example chiSquareQuantile(0.95, 1) // 3.84145882
 */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  if (!(p >= 0 && p < 1 && degreesOfFreedom > 0)) {
    throw new RangeError(`chiSquareQuantile: p in [0, 1), degrees of freedom > 0, got ${p}, ${degreesOfFreedom}`)
  }
  return p === 0 ? 0 : 2 * unitGammaQuantile(p, degreesOfFreedom / 2)
}

/**
 * The quantile of a gamma variable of scale 1 by Halley steps on P(a, x). Our own: the library's starts from `Math.pow`,
 * whose last bit changes with the version of Node.
 *
 * @source start: Wilson and Hilferty, Abramowitz & Stegun (1964), 26.4.17, for shapes above 1; below, Press et al. (2007),
 *   Numerical Recipes, section 6.2.1 (recalled)
 */
function unitGammaQuantile(p: number, a: number): number {
  const lnGamma = libraryGammaLn(a)
  let x = gammaStart(p, a)
  for (let step = 0; step < 12 && x > 0; step++) {
    const density = Math.exp((a - 1) * Math.log(x) - x - lnGamma)
    const newton = (jstat.lowRegGamma(a, x) - p) / density
    const change = newton / (1 - 0.5 * Math.min(1, newton * ((a - 1) / x - 1)))
    // a step past 0 is replaced by one of half the distance to 0
    x = x > change ? x - change : x / 2
    if (Math.abs(change) < 1e-10 * x) break
  }
  return x
}

function gammaStart(p: number, a: number): number {
  if (a > 1) return Math.max(1e-3, a * power(1 - 1 / (9 * a) + normalQuantile(p) / (3 * Math.sqrt(a)), 3))
  const t = 1 - a * (0.253 + a * 0.12)
  return p < t ? power(p / t, 1 / a) : 1 - Math.log(1 - (p - t) / (1 - t))
}

function requireShare(name: string, p: number): void {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`${name}: a share must be in [0, 1], got ${p}`)
}

/**
 * Rank correlation of two columns (Spearman).
 *
 * @param one - at least two values
 * @param other - as many
 * @returns −1 to 1
 * @source C. SPEARMAN (1904), Am. J. Psychol. 15, 72–101, through simple-statistics
 * @example rankCorrelation([1, 2, 3], [10, 20, 30]) // 1
 */
export function rankCorrelation(one: readonly number[], other: readonly number[]): number {
  return sampleRankCorrelation([...one], [...other])
}
