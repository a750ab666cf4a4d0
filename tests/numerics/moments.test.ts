import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { joinMoments, momentsOf, NO_MOMENTS, standardErrorOf, varianceOf } from '../../src/numerics/samples/moments.ts'
import { expectClose } from './relative.ts'

describe('moments', () => {
  test('of 1 to 1000: mean 500.5, variance n(n+1)/12', () => {
    const moments = momentsOf(Float64Array.from({ length: 1000 }, (_, i) => i + 1))
    expect(moments.count).toBe(1000)
    expectClose(moments.mean, 500.5, 1e-15)
    expectClose(varianceOf(moments), (1000 * 1001) / 12, 1e-14)
    expectClose(standardErrorOf(moments), Math.sqrt(1001 / 12), 1e-14)
  })

  test('a large offset does not lose the spread', () => {
    const offset = 1e9
    const moments = momentsOf(Float64Array.from({ length: 10_000 }, (_, i) => offset + (i % 2)))
    expectClose(varianceOf(moments), 0.25 * (10_000 / 9_999), 1e-9)
    expectClose(moments.mean, offset + 0.5, 1e-16)
  })

  test('joined parts are the whole', () => {
    const samples = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 2, maxLength: 600 })
    fc.assert(
      fc.property(samples, fc.nat(), (sample, at) => {
        const cut = at % sample.length
        const whole = momentsOf(sample)
        const joined = joinMoments(momentsOf(sample, 0, cut), momentsOf(sample, cut))
        expect(joined.count).toBe(whole.count)
        expect(Math.abs(joined.mean - whole.mean)).toBeLessThan(1e-9)
        expect(Math.abs(joined.squares - whole.squares)).toBeLessThanOrEqual(1e-12 * (1 + whole.squares) * 1e3)
      }),
      { seed: 4 },
    )
  })

  test('none, one', () => {
    expect(momentsOf([])).toEqual(NO_MOMENTS)
    expect(momentsOf([]).mean).toBe(0)
    expect(joinMoments(NO_MOMENTS, momentsOf([3]))).toEqual({ count: 1, mean: 3, squares: 0 })
    expect(joinMoments(momentsOf([3]), NO_MOMENTS)).toEqual({ count: 1, mean: 3, squares: 0 })
    expect(varianceOf(momentsOf([3]))).toBe(0)
    expect(standardErrorOf(momentsOf([3]))).toBe(0)
  })
})
