import { power } from '../../numerics/power.ts'
import { chiSquareQuantile } from '../../numerics/special.ts'
import type { Pool } from '../likelihood/pool.ts'

/**
 * The characteristic life for a given shape, by maximum likelihood.
 * life^shape = Σ (end^shape − start^shape) / failures
 *
 * Failures known only between two ages enter at the middle of the two, which makes it an approximation there; the fit
 * proper starts from it.
 *
 * @param pooled - the records
 * @param shape - > 0
 * @returns life, > 0, in the age unit; with no failure the life one failure would give
 */
export function lifeForShape(pooled: Pool, shape: number): number {
  return power(hazardUnits(pooled, shape) / Math.max(pooled.nFailed, 1), 1 / shape)
}

/**
 * A life that the units surpass with the given confidence, although few or none have failed, for an assumed shape.
 * life = (Σ (end^shape − start^shape) / q)^(1/shape), q = χ²(confidence, 2 failures + 2) / 2
 *
 * @param pooled - the records
 * @param shape - assumed, > 0
 * @param confidence - (0, 1)
 * @returns lower bound of the characteristic life, in the age unit; 0 where nothing was watched
 * @source Nelson (1985), Journal of Quality Technology 17, 140–146 (recalled); q is a quantile of the gamma
 *   distribution with shape failures + 1
 */
export function lifeBound(pooled: Pool, shape: number, confidence: number): number {
  const q = chiSquareQuantile(confidence, 2 * pooled.nFailed + 2) / 2
  return power(hazardUnits(pooled, shape) / q, 1 / shape)
}

/** Σ end^shape − start^shape: the exposure of the units. */
function hazardUnits(pooled: Pool, shape: number): number {
  const { exposures, intervals } = pooled
  let sum = 0
  for (let i = 0; i < exposures.ages.length; i++)
    sum += (exposures.weights[i] ?? 0) * power(exposures.ages[i] ?? 0, shape)
  for (let i = 0; i < intervals.counts.length; i++) {
    const middle = ((intervals.afterAges[i] ?? 0) + (intervals.beforeAges[i] ?? 0)) / 2
    sum += (intervals.counts[i] ?? 0) * power(middle, shape)
  }
  return sum
}
