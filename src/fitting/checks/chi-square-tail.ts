import { lowerRegularisedGamma } from '../../numerics/special.ts'

/**
 * Chance that a χ² figure is as large or larger by chance alone.
 *
 * @param value - >= 0
 * @param degreesOfFreedom - whole number, > 0
 * @returns [0, 1]
 * @example chiSquareTail(3.841458820694124, 1) // 0.05
 */
export function chiSquareTail(value: number, degreesOfFreedom: number): number {
  if (value <= 0) return 1
  return Math.min(1, Math.max(0, 1 - lowerRegularisedGamma(degreesOfFreedom / 2, value / 2)))
}

/**
 * Chance of at least so many failures where a number is expected and failures are independent (Poisson).
 *
 * @param seen - whole number, >= 0
 * @param expected - >= 0
 * @returns [0, 1]
 * @example poissonTail(1, 2) // 0.8647
 */
export function poissonTail(seen: number, expected: number): number {
  if (seen <= 0) return 1
  return expected <= 0 ? 0 : lowerRegularisedGamma(seen, expected)
}
