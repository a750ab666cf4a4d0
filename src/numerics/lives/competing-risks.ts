/**
 * The age at failure of a unit with several Weibull failure modes, each of which may affect only a share of units (M1).
 */

import { power } from '../power.ts'

/** One failure mode (M1). */
export interface Mode {
  readonly cause: string
  /** Share of units that can fail by it, (0, 1]. */
  readonly susceptible: number
  /** Weibull shape, > 0. */
  readonly shape: number
  /** Weibull scale, years, > 0: 63.2 % of susceptible units have failed by then. */
  readonly lifeYears: number
  /** ln lifeYears, kept because every hazard needs it. */
  readonly logLife: number
}

/**
 * A failure mode (M1).
 *
 * @param cause - word for it, e.g. 'wear-out'
 * @param susceptible - share of units that can fail by it, (0, 1]
 * @param shape - Weibull shape, > 0
 * @param lifeYears - Weibull scale, years, > 0
 */
export function failureMode(cause: string, susceptible: number, shape: number, lifeYears: number): Mode {
  return { cause, susceptible, shape, lifeYears, logLife: Math.log(lifeYears) }
}

/** Bit set of modes that a unit can no longer fail by (M3); bit i is mode i. */
export type CuredModes = number

/**
 * Cumulative hazard of a unit: −ln of the share still in service (M1).
 * H(a) = −Σ ln((1−s) + s·exp(−(a/η)^β))
 *
 * @param modes - the modes of the unit
 * @param ageYears - age, years, >= 0
 * @param cured - modes left out
 * @returns >= 0; 0 at age 0; rises with age
 * @source competing risks: Meeker & Escobar (1998), Statistical Methods for Reliability Data, section 15.4 (recalled)
 */
export function cumulativeHazard(modes: readonly Mode[], ageYears: number, cured: CuredModes = 0): number {
  if (ageYears <= 0) return 0
  const logAge = Math.log(ageYears)
  let hazard = 0
  for (let i = 0; i < modes.length; i++) {
    if ((cured >> i) & 1) continue
    const mode = modes[i]
    if (mode !== undefined) hazard += modeHazard(mode.susceptible, relativeAge(mode, logAge))
  }
  return hazard
}

/**
 * The age at which the cumulative hazard reaches a level: the inverse of `cumulativeHazard` (M1).
 * Newton steps on logarithms from an upper bound, kept inside a bracket; relative error of the age under 1e-12.
 *
 * @param modes - the modes of the unit
 * @param level - cumulative hazard to reach, >= 0
 * @param cured - modes left out
 * @param logGuess - ln of an age near the answer; NaN: none
 * @param logLevel - ln level, where it is known
 * @returns age, years, >= 0; Infinity if the level is never reached
 */
export function ageAtHazard(
  modes: readonly Mode[],
  level: number,
  cured: CuredModes = 0,
  logGuess: number = Number.NaN,
  logLevel: number = Math.log(level),
): number {
  if (level <= 0) return 0
  let logHigh = Infinity
  let logAge = logGuess
  if (Number.isNaN(logGuess)) {
    const high = ageNotBefore(modes, level, cured)
    if (high <= 0) return -high // the answer itself
    if (high === Infinity) return Infinity
    logAge = Math.log(high)
    logHigh = logAge
  }
  let logLow = -Infinity
  for (let step = 0; step < 200; step++) {
    hazardTerms(modes, logAge, cured, terms)
    const hazard = terms[0] ?? 0
    const slope = terms[1] ?? 0
    const excess = Math.log(hazard) - logLevel
    if (excess > 0) logHigh = logAge
    else logLow = logAge
    const newton = (excess * hazard) / slope
    // the error of the next age is of the order of the square of this step
    if (Math.abs(newton) < 1e-7) return Math.exp(logAge - newton)
    const next = logAge - newton
    if (next > logLow && next < logHigh) logAge = next
    else if (logHigh - logLow < 1e-14) break
    else if (logHigh === Infinity) logAge = logLow + 1
    else logAge = logLow === -Infinity ? logHigh - 1 : (logLow + logHigh) / 2
  }
  return Math.exp(logAge)
}

/** Memory of the search. */
const terms = new Float64Array(3)

/**
 * The cumulative hazard with its first and second derivative by the logarithm of the age, for a search for an age (M1).
 *
 * @param modes - the modes of the unit
 * @param logAge - ln of the age in years
 * @param cured - modes left out
 * @param out - filled: H, dH/d ln a, d²H/(d ln a)²
 */
export function hazardTerms(modes: readonly Mode[], logAge: number, cured: CuredModes, out: Float64Array): void {
  let hazard = 0
  let slope = 0
  let bend = 0
  for (let i = 0; i < modes.length; i++) {
    const mode = modes[i]
    if (mode === undefined || (cured >> i) & 1) continue
    const { susceptible, shape } = mode
    const exponent = shape === 1 ? logAge - mode.logLife : shape * (logAge - mode.logLife)
    if (exponent > STEEP) {
      hazard += modeHazard(susceptible, steepAge(exponent))
      slope += susceptible === 1 ? shape * LARGEST : 0
      continue
    }
    const x = Math.exp(exponent)
    if (susceptible === 1) {
      hazard += x
      slope += shape * x
      bend += shape * shape * x
      continue
    }
    // as in modeHazard: the quicker form from 0.01 on
    const alive = susceptible * Math.exp(-x)
    const share = 1 - susceptible + alive
    hazard += x < 0.01 ? -Math.log1p(susceptible * Math.expm1(-x)) : -Math.log(share)
    const part = (x * alive) / share
    slope += shape * part
    bend += shape * shape * part * (1 - x + part)
  }
  out[0] = hazard
  out[1] = slope
  out[2] = bend
}

/** An age at which the level is reached for certain; Infinity if it never is; minus the answer where it is known. */
function ageNotBefore(modes: readonly Mode[], level: number, cured: CuredModes): number {
  let high = Infinity
  let left = 0
  for (let i = 0; i < modes.length; i++) {
    const mode = modes[i]
    if (mode === undefined || (cured >> i) & 1) continue
    left++
    high = Math.min(high, ageOfMode(mode, level))
  }
  if (left === 1) return high === Infinity ? high : -high
  return high === Infinity && left > 0 ? ageBeyond(modes, level, cured) : high
}

/**
 * The mode of a failure at an age, chosen with the probability of its share of the hazard (M1).
 *
 * @param modes - the modes of the unit, at least one not cured
 * @param ageYears - age at failure, years, > 0
 * @param cured - modes left out
 * @param uniform - (0, 1)
 * @returns index of the mode
 */
export function modeAtFailure(modes: readonly Mode[], ageYears: number, cured: CuredModes, uniform: number): number {
  const logAge = Math.log(ageYears)
  let total = 0
  for (let i = 0; i < modes.length; i++) {
    const mode = modes[i]
    const weight = mode === undefined || (cured >> i) & 1 ? 0 : modeSlope(mode, relativeAge(mode, logAge))
    weights[i] = weight
    total += weight
  }
  let left = uniform * total
  let last = 0
  for (let i = 0; i < modes.length; i++) {
    if ((cured >> i) & 1) continue
    last = i
    left -= weights[i] ?? 0
    if (left <= 0) return i
  }
  return last
}

/** Memory of the choice of a mode; a bit set names at most 32. */
const weights = new Float64Array(32)

/**
 * ln of the largest (a/η)^β that is computed as such. Beyond it every unit fails within moments; the hazard then rises
 * with the logarithm of the age, so that it stays finite and still rises with age. Ours.
 */
const STEEP = 600
const LARGEST = Math.exp(STEEP)

/** (a/η)^β; see STEEP. */
function relativeAge(mode: Mode, logAge: number): number {
  const exponent = mode.shape * (logAge - mode.logLife)
  return exponent > STEEP ? steepAge(exponent) : Math.exp(exponent)
}

function steepAge(exponent: number): number {
  return LARGEST * (1 + exponent - STEEP)
}

function modeHazard(susceptible: number, x: number): number {
  if (susceptible === 1) return x
  // for a young unit the difference from 1 is lost below 1e-16; older ones can have the quicker form
  if (x < 0.01) return -Math.log1p(susceptible * Math.expm1(-x))
  return -Math.log(1 - susceptible + susceptible * Math.exp(-x))
}

/** Hazard times age: dH/d ln a. */
function modeSlope(mode: Mode, x: number): number {
  if (mode.susceptible === 1) return mode.shape * x
  const alive = mode.susceptible * Math.exp(-x)
  return (mode.shape * x * alive) / (1 - mode.susceptible + alive)
}

/** Age at which one mode alone reaches the level. */
function ageOfMode(mode: Mode, level: number): number {
  let x = level
  if (mode.susceptible < 1) {
    const alive = 1 + Math.expm1(-level) / mode.susceptible
    if (alive <= 0) return Infinity
    x = -Math.log(alive)
  }
  if (x > LARGEST) return mode.lifeYears * Math.exp((STEEP + x / LARGEST - 1) / mode.shape)
  return mode.lifeYears * power(x, 1 / mode.shape)
}

/** An age beyond the level where no single mode reaches it, or Infinity if the sum never does. */
function ageBeyond(modes: readonly Mode[], level: number, cured: CuredModes): number {
  let most = 0
  let age = 1
  for (let i = 0; i < modes.length; i++) {
    const mode = modes[i]
    if (mode === undefined || (cured >> i) & 1) continue
    most += mode.susceptible === 1 ? Infinity : -Math.log1p(-mode.susceptible)
    age = Math.max(age, mode.lifeYears)
  }
  if (most <= level) return Infinity
  while (cumulativeHazard(modes, age, cured) < level) {
    age *= 2
    if (age > 1e12) return Infinity
  }
  return age
}
