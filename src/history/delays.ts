import type { DelayTruth } from './unit-truth.ts'

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
