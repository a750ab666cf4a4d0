/**
 * The downtime of a failure (O1, O2): detection, response and repair, with and without monitoring, and the random
 * numbers that they read. Whoever plays histories asks here.
 */
import type { DelayTruth, UnitTruth } from './unit-truth.ts'

/**
 * The random numbers of one failure: always all drawn and in this order, so that no rule moves another's (K1). They lie
 * in one column, which the stream of the slot fills.
 */
export const FATE = {
  claim: 0,
  detect: 1,
  respond: 2,
  repair: 3,
  mode: 4,
  string: 5,
  /** Unit exponential of the next life. */
  exponential: 6,
} as const

/** Uniform numbers of a fate, before its exponential. */
export const FATE_UNIFORMS = FATE.exponential

/** Room for one fate. */
export function emptyFate(): Float64Array {
  return new Float64Array(FATE_UNIFORMS + 1)
}

/**
 * A delay at a quantile (O1).
 *
 * @param delay - fixed or lognormal
 * @param quantile - (0, 1)
 * @returns years, >= 0
 */
export function delayYears(delay: DelayTruth, quantile: number): number {
  return delay.factors === null ? delay.medianYears : delay.medianYears * delay.factors.at(quantile)
}

/**
 * When a failure is detected (O2): after the monitored time if monitoring works, else at the earlier of the
 * unmonitored time and the return of monitoring plus the monitored time, both at one quantile.
 *
 * @param unit - of the population
 * @param quantile - of both times, (0, 1)
 * @param failedAt - moment of the failure, years
 * @param monitoredFrom - moment from which monitoring works, seen from the failure; Infinity: never; ignored for a
 * gateway, which is found by its own delay
 * @returns moment of detection, years
 */
export function detectionAt(unit: UnitTruth, quantile: number, failedAt: number, monitoredFrom: number): number {
  const monitored = delayYears(unit.detect, quantile)
  if (unit.isGateway || monitoredFrom === failedAt) return failedAt + monitored
  return Math.min(failedAt + delayYears(unit.detectUnmonitored, quantile), monitoredFrom + monitored)
}
