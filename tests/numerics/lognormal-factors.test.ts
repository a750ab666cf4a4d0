import { expect, test } from 'vitest'
import { LognormalFactors, lognormalFactors } from '../../src/numerics/distributions/lognormal-factors.ts'
import { normalQuantile } from '../../src/numerics/special.ts'

test('O1: the factor of a delay is within 5e-8 of exp(σz), in the middle, at the joints of the table and in the tails', () => {
  const seams = [1, 2, 3, 8, 19, 20, 21].flatMap(k => [0.999999, 1, 1.000001].map(near => near * 2 ** -k))
  const inner = Array.from({ length: 1500 }, (_, i) => (i + 0.37) / 1500)
  const outer = Array.from({ length: 300 }, (_, i) => 10 ** (-9.5 + (9 * i) / 300))
  const places = [...seams, ...inner, ...outer].filter(p => p < 1)
  for (const sigma of [0.1, 0.6, 0.91, 1.5, 3]) {
    const factors = new LognormalFactors(sigma)
    for (const p of [...places, ...places.map(p => 1 - p)]) {
      const exact = Math.exp(sigma * normalQuantile(p))
      expect(Math.abs(factors.at(p) / exact - 1), `σ = ${sigma}, p = ${p}`).toBeLessThan(5e-8)
    }
  }
})

test('O1: one spread is tabulated once', () => {
  expect(lognormalFactors(0.7)).toBe(lognormalFactors(0.7))
  expect(lognormalFactors(0.7)).not.toBe(lognormalFactors(0.8))
})
