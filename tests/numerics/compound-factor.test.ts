import { expect, test } from 'vitest'
import { CompoundFactor } from '../../src/numerics/compound-factor.ts'

test('C2, C4: a tabulated growth is within 1e-12 of the exponential, inside the table and beyond', () => {
  for (const rate of [-0.35, -0.0392, -0.0202, 0.00498, 0.3, 0.7]) {
    const [table, plain] = [new CompoundFactor(rate, 30), new CompoundFactor(rate)]
    for (let i = 0; i <= 4000; i++) {
      const years = (i * 31) / 4000
      const exact = Math.exp(rate * years)
      expect(Math.abs(table.at(years) / exact - 1), `rate ${rate}, ${years} years`).toBeLessThan(1e-12)
      expect(plain.at(years)).toBe(exact)
    }
  }
})

test('C4: without growth every price is that of the start', () => {
  for (const growth of [new CompoundFactor(0), new CompoundFactor(0, 25)]) expect(growth.at(17.3)).toBe(1)
})
