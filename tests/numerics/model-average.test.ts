import { describe, expect, test } from 'vitest'
import { hazardOfShare } from '../../src/numerics/lives/model-average.ts'
import { gammaQuantile } from '../../src/numerics/special.ts'
import { expectClose } from './relative.ts'

/** F = 1 − (1 + c²H)^(−1/c²); c = 0: 1 − exp(−H). */
function shareFailed(hazard: number, spread: number): number {
  if (spread === 0) return -Math.expm1(-hazard)
  const variance = spread * spread
  return -Math.expm1(-Math.log1p(variance * hazard) / variance)
}

describe('M4: survival averaged over product models', () => {
  test.each([0.1, 0.5, 1, 2])('spread %d: is the mean over models of S to the power of their multiplier', spread => {
    const shape = 1 / spread ** 2
    const n = 4000
    for (const hazard of [0.01, 0.4, 2]) {
      let alive = 0
      for (let i = 0; i < n; i++) alive += Math.exp(-hazard * gammaQuantile((i + 0.5) / n, shape, 1 / shape))
      expectClose(shareFailed(hazard, spread), 1 - alive / n, 2e-3)
    }
  })

  test('a spread of 0 is the average model itself, and a small one is near it', () => {
    expect(shareFailed(0.7, 0)).toBe(-Math.expm1(-0.7))
    expectClose(shareFailed(0.7, 1e-5), shareFailed(0.7, 0), 1e-9)
    expectClose(hazardOfShare(0.3, 1e-5), hazardOfShare(0.3, 0), 1e-9)
  })

  test.each([0, 0.1, 0.5, 2])('spread %d: hazard and share undo each other', spread => {
    for (const share of [1e-9, 0.01, 0.343, 0.9])
      expectClose(shareFailed(hazardOfShare(share, spread), spread), share, 1e-12)
  })
})
