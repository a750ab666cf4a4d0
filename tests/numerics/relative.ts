import { expect } from 'vitest'

/**
 * Expects a value within a relative distance of the reference; where the reference is 0 the distance is absolute.
 *
 * @param actual - value of ours
 * @param reference - value it is compared with
 * @param tolerance - largest relative distance, e.g. 1e-9
 * @param what - said when it fails
 */
export function expectClose(actual: number, reference: number, tolerance: number, what = ''): void {
  const distance = Math.abs(actual - reference) / (reference === 0 ? 1 : Math.abs(reference))
  expect(distance, `${what}: ${actual} against ${reference}`).toBeLessThanOrEqual(tolerance)
}
