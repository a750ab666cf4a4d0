import { normalScore } from '../numerics/normal-scores.ts'
import type { DelayTruth } from './unit-truth.ts'

/**
 * A delay at a quantile (O1).
 *
 * @param delay - fixed or lognormal
 * @param quantile - (0, 1)
 * @returns years, >= 0
 */
export function delayYears(delay: DelayTruth, quantile: number): number {
  return delay.sigma === 0 ? delay.medianYears : delay.medianYears * Math.exp(delay.sigma * normalScore(quantile))
}
