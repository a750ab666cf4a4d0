/**
 * One Weibull mode at one age, with first and second derivatives in the coordinates of the fit: logarithm of the
 * shape, logarithm of the characteristic life, logit of the susceptible share (M1).
 *
 * With u = (t/η)^β and susceptible share s:
 *   G = −ln((1−s) + s·exp(−u)), the mode's cumulative hazard;
 *   g = dG/dt = w·du/dt, its hazard, with w = 1/(1 + exp(u − z)), z = logit s: the share of susceptible ones among the
 *   units still working.
 */

/** Places of the coordinates in `ModeTerms`. */
export const SHAPE = 0
/** Place of the logarithm of the characteristic life. */
export const LIFE = 1
/** Place of the logit of the susceptible share. */
export const SHARE = 2

/** A mode in the coordinates of the fit. */
export interface ModeCoordinates {
  readonly logShape: number
  readonly logLife: number
  /** Infinity: every unit is susceptible. */
  readonly logitShare: number
}

/** Room for the terms of one mode at one age; second derivatives are kept as six: 00, 01, 02, 11, 12, 22. */
export class ModeTerms {
  /** G. */
  sum = 0
  readonly sum1 = new Float64Array(3)
  readonly sum2 = new Float64Array(6)
  /** ln g. */
  logRate = 0
  readonly logRate1 = new Float64Array(3)
  readonly logRate2 = new Float64Array(6)
}

/** Place of the second derivative by coordinates a and b in the six that are kept. */
export const PAIR: readonly (readonly number[])[] = [
  [0, 1, 2],
  [1, 3, 4],
  [2, 4, 5],
]

// Above this (t/η)^β is over 1e99: survival is 0 to any precision, and squares stay finite.
const LARGEST_LOG = 230

/**
 * Fills in the terms of a mode at an age.
 *
 * @param mode - the mode
 * @param logAge - natural logarithm of the age; age > 0
 * @param terms - where the result goes
 */
export function fillModeTerms(mode: ModeCoordinates, logAge: number, terms: ModeTerms): void {
  const shape = Math.exp(mode.logShape)
  const y = Math.min(shape * (logAge - mode.logLife), LARGEST_LOG)
  const u = Math.exp(y)
  const uS = u * y
  const uL = -shape * u
  const uSS = u * y * (1 + y)
  const uSL = -shape * u * (1 + y)
  const uLL = shape * shape * u
  const { sum1, sum2, logRate1, logRate2 } = terms
  const logSlope = mode.logShape + y - logAge // ln du/dt
  if (mode.logitShare === Infinity) {
    terms.sum = u
    sum1[0] = uS
    sum1[1] = uL
    sum1[2] = 0
    sum2[0] = uSS
    sum2[1] = uSL
    sum2[2] = 0
    sum2[3] = uLL
    sum2[4] = 0
    sum2[5] = 0
    terms.logRate = logSlope
    logRate1[0] = 1 + y
    logRate1[1] = -shape
    logRate1[2] = 0
    logRate2[0] = y
    logRate2[1] = -shape
    logRate2[2] = 0
    logRate2[3] = 0
    logRate2[4] = 0
    logRate2[5] = 0
    return
  }
  const share = 1 / (1 + Math.exp(-mode.logitShare))
  const left = u - mode.logitShare
  const w = 1 / (1 + Math.exp(left))
  const v = 1 / (1 + Math.exp(-left)) // 1 − w, exact where w is near 1
  const wv = w * v
  terms.sum = -Math.log1p(share * Math.expm1(-u))
  sum1[0] = w * uS
  sum1[1] = w * uL
  sum1[2] = share - w
  sum2[0] = w * uSS - wv * uS * uS
  sum2[1] = w * uSL - wv * uS * uL
  sum2[2] = wv * uS
  sum2[3] = w * uLL - wv * uL * uL
  sum2[4] = wv * uL
  sum2[5] = share * (1 - share) - wv
  terms.logRate = -softplus(left) + logSlope
  logRate1[0] = 1 + y - v * uS
  logRate1[1] = -shape - v * uL
  logRate1[2] = v
  logRate2[0] = y - v * uSS - wv * uS * uS
  logRate2[1] = -shape - v * uSL - wv * uS * uL
  logRate2[2] = wv * uS
  logRate2[3] = -v * uLL - wv * uL * uL
  logRate2[4] = wv * uL
  logRate2[5] = -wv
}

/** A mode with what does not depend on the age already computed. */
export interface PlainMode {
  readonly shape: number
  readonly logShape: number
  readonly logLife: number
  readonly logitShare: number
  /** In (0, 1]. */
  readonly share: number
}

/**
 * Prepares a mode for `modeSum` and `modeLogRate`.
 *
 * @param mode - in the coordinates of the fit
 */
export function plainMode(mode: ModeCoordinates): PlainMode {
  const { logShape, logLife, logitShare } = mode
  return { shape: Math.exp(logShape), logShape, logLife, logitShare, share: 1 / (1 + Math.exp(-logitShare)) }
}

/**
 * Cumulative hazard of a mode at an age, without derivatives.
 *
 * @param mode - from `plainMode`
 * @param logAge - natural logarithm of the age
 * @returns G, >= 0
 */
export function modeSum(mode: PlainMode, logAge: number): number {
  const u = Math.exp(Math.min(mode.shape * (logAge - mode.logLife), LARGEST_LOG))
  return mode.share === 1 ? u : -Math.log1p(Math.expm1(-u) * mode.share)
}

/**
 * Logarithm of the hazard of a mode at an age, without derivatives.
 *
 * @param mode - from `plainMode`
 * @param logAge - natural logarithm of the age
 * @returns ln g
 */
export function modeLogRate(mode: PlainMode, logAge: number): number {
  const y = Math.min(mode.shape * (logAge - mode.logLife), LARGEST_LOG)
  const logSlope = mode.logShape + y - logAge
  return mode.share === 1 ? logSlope : logSlope - softplus(Math.exp(y) - mode.logitShare)
}

/** ln(1 + exp(x)) without overflow. */
function softplus(x: number): number {
  return x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x))
}
