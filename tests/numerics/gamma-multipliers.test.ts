import { expect, test } from 'vitest'
import { GammaMultipliers } from '../../src/numerics/distributions/gamma-multipliers.ts'
import { gammaQuantile } from '../../src/numerics/special.ts'

test('M4: multipliers from the table are the gamma quantiles to 1e-8, tails included', () => {
  for (const shape of [0.5, 1, 1.7, 4, 11.1, 100, 400]) {
    const table = new GammaMultipliers(shape)
    for (let i = 0; i < 3000; i++) {
      const share = (i + 0.37) / 3000
      const exact = gammaQuantile(share, shape, 1 / shape)
      expect(Math.abs(table.at(share) / exact - 1), `shape ${shape}, share ${share}`).toBeLessThan(1e-8)
    }
    for (const share of [1e-6, 1 - 1e-6]) expect(table.at(share)).toBe(gammaQuantile(share, shape, 1 / shape))
  }
})
