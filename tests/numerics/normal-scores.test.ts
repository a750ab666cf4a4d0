import { expect, test } from 'vitest'
import { normalScore } from '../../src/numerics/distributions/normal-scores.ts'
import { normalQuantile } from '../../src/numerics/special.ts'

test('O1: the fast normal score is within 1e-9 of the exact one, in the middle, at the joints of the table and in the tails', () => {
  const places = [1e-9, 1e-4, 63.999 / 4096, 64 / 4096, 64.5 / 4096, 0.3, 0.5, 0.9, 1 - 64 / 4096, 1 - 1e-6]
  const grid = Array.from({ length: 5000 }, (_, i) => (i + 0.37) / 5000)
  for (const p of [...places, ...grid])
    expect(Math.abs(normalScore(p) - normalQuantile(p)), `p = ${p}`).toBeLessThan(1e-9)
})
