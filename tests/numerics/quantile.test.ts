import fc from 'fast-check'
import { quantileSorted as librarySorted } from 'simple-statistics'
import { describe, expect, test } from 'vitest'
import { quantiles } from '../../src/numerics/samples/quantile.ts'
import reference from '../reference/quantiles-intervals.json' with { type: 'json' }
import { expectClose } from './relative.ts'

/** The same from a library, of a sorted sample. */
const quantileSorted = (sorted: Float64Array, p: number): number => librarySorted([...sorted], p)

describe('quantiles are those of type 7', () => {
  test.each(reference.sample_quantiles)('sample $sample (COMPUTED: R quantile, type 7)', row => {
    const sample = Float64Array.from(row.sample)
    const all = quantiles(sample, row.probs)
    row.probs.forEach((p, i) => {
      const expected = row.by_type['7'][i] ?? Number.NaN
      expectClose(quantileSorted(sample.slice().sort(), p), expected, 1e-14)
      expectClose(all[i] ?? Number.NaN, expected, 1e-14)
    })
  })

  test('selection gives the bytes that sorting gives, for any sample and any order of shares', () => {
    const samples = fc.float64Array({
      minLength: 1,
      maxLength: 3000,
      noNaN: true,
      noDefaultInfinity: true,
      min: -1e9,
      max: 1e9,
    })
    const shares = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 8 })
    fc.assert(
      fc.property(samples, shares, (sample, ps) => {
        const before = sample.slice()
        const sorted = sample.slice().sort()
        expect(quantiles(sample, ps)).toEqual(ps.map(p => quantileSorted(sorted, p)))
        expect(sample).toEqual(before)
      }),
      { seed: 3 },
    )
  })

  test('many equal values are handled', () => {
    const sample = Float64Array.from({ length: 50_000 }, (_, i) => (i % 5 === 0 ? i : 0))
    const sorted = sample.slice().sort()
    const ps = [0.05, 0.1, 0.5, 0.79, 0.8, 0.9, 0.95, 1]
    expect(quantiles(sample, ps)).toEqual(ps.map(p => quantileSorted(sorted, p)))
  })

  test('an empty sample and a share beyond 1 are refused', () => {
    expect(() => quantiles(new Float64Array(), [0.5])).toThrow('quantile: the sample is empty')
    expect(() => quantiles(Float64Array.of(1), [1.5])).toThrow('quantile: p must be in [0, 1], got 1.5')
  })
})
