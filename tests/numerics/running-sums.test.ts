import fc from 'fast-check'
import { expect, test } from 'vitest'
import { quantiles } from '../../src/numerics/samples/quantile.ts'
import { RunningSums } from '../../src/numerics/samples/running-sums.ts'

const PS = [0.05, 0.5, 0.8, 0.9, 0.95, 1]

test('quantiles of sums that grow are those of the sums, whatever grows and however large the largest was said to be', () => {
  const growth = fc.tuple(fc.nat({ max: 2999 }), fc.oneof(fc.constant(0), fc.double({ min: 0, max: 1e4, noNaN: true })))
  const years = fc.array(fc.array(growth, { maxLength: 400 }), { minLength: 1, maxLength: 4 })
  fc.assert(
    fc.property(years, fc.constantFrom(1, 1e4, 1e9), fc.boolean(), (all, largest, alike) => {
      const running = new RunningSums(3000, largest)
      const plain = new Float64Array(3000)
      for (const year of all) {
        const at = Uint16Array.from(year, ([which]) => which)
        const amounts = Float64Array.from(year, ([, amount]) => amount)
        running.grow(at, 0, amounts, 0.5, 0, at.length)
        at.forEach((which, i) => {
          plain[which] = (plain[which] ?? 0) + 0.5 * (amounts[i] ?? 0)
        })
        if (alike) {
          running.growAll(plain, 0.25)
          for (let i = 0; i < plain.length; i++) plain[i] = (plain[i] ?? 0) + 0.25 * (plain[i] ?? 0)
        }
        expect(running.sums).toEqual(plain)
        expect(running.quantiles(PS)).toEqual(quantiles(plain, PS))
      }
    }),
    { seed: 5, numRuns: 60 },
  )
})
