import { describe, expect, test } from 'vitest'
import {
  chiSquareQuantile,
  gammaFunction,
  gammaLn,
  gammaQuantile,
  lowerRegularisedGamma,
  normalCdf,
  normalQuantile,
} from '../../src/numerics/special.ts'
import intervals from '../reference/quantiles-intervals.json' with { type: 'json' }
import { expectClose } from './relative.ts'

// Values without a source in the line are closed forms, or 16 digits of mpmath 1.3 (60-digit arithmetic).
const HOLDS = 1e-9

describe('N2: each special function holds 1e-9', () => {
  test.each([
    [1e-8, -5.612001244174789],
    [0.001, -3.090232306167814],
    [0.1, -1.2815515655446004],
    [0.5, 0],
    [0.975, 1.959963984540054],
    [1 - 1e-8, 5.612001243305505],
  ])('normalQuantile(%d) is %d', (p, z) => {
    expectClose(normalQuantile(p), z, HOLDS)
  })

  test('normalQuantile: the ends are infinite and a share beyond them is refused', () => {
    expect([normalQuantile(0), normalQuantile(1)]).toEqual([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY])
    expect(() => normalQuantile(1.1)).toThrow('normalQuantile: a share must be in [0, 1], got 1.1')
  })

  test('normalCdf undoes normalQuantile from one in a million to all but one in a million', () => {
    for (const p of [1e-6, 1e-3, 0.025, 0.3, 0.5, 0.9, 0.999]) expectClose(normalCdf(normalQuantile(p)), p, HOLDS)
    expectClose(normalCdf(-6), 9.865876450376946e-10, 1e-6)
    expect(normalCdf(-40)).toBe(0)
    expect(normalCdf(40)).toBe(1)
  })

  test('gammaFunction: half-integers are √π times a fraction, integers factorials', () => {
    expectClose(gammaFunction(0.5), Math.sqrt(Math.PI), HOLDS)
    expectClose(gammaFunction(1.5), Math.sqrt(Math.PI) / 2, HOLDS)
    expectClose(gammaFunction(7.5), (135135 / 128) * Math.sqrt(Math.PI), HOLDS)
    expectClose(gammaFunction(21), 2432902008176640000, HOLDS)
    expectClose(gammaFunction(1.0001), 0.9999422883233161, HOLDS)
    expect(() => gammaFunction(0)).toThrow('gammaFunction: x must be in (0, 171], got 0')
  })

  test('gammaLn: agrees with the logarithm of factorials and with Stirling far out', () => {
    expectClose(gammaLn(0.5), Math.log(Math.PI) / 2, HOLDS)
    expectClose(gammaLn(10), Math.log(362880), HOLDS)
    const x = 1e6
    const stirling = (x - 0.5) * Math.log(x) - x + Math.log(2 * Math.PI) / 2 + 1 / (12 * x)
    expectClose(gammaLn(x), stirling, HOLDS)
  })

  test('lowerRegularisedGamma: integer shapes are Poisson tails', () => {
    const poisson = (a: number, x: number) => {
      let term = Math.exp(-x)
      let below = 0
      for (let k = 0; k < a; k++) {
        below += term
        term *= x / (k + 1)
      }
      return 1 - below
    }
    for (const a of [1, 2, 5, 30])
      for (const x of [0.5, 3, 10, 29, 60]) {
        expect(Math.abs(lowerRegularisedGamma(a, x) - poisson(a, x))).toBeLessThan(HOLDS)
      }
    expect(lowerRegularisedGamma(3, 0)).toBe(0)
    expect(lowerRegularisedGamma(3, Number.POSITIVE_INFINITY)).toBe(1)
  })

  test.each(intervals.gamma)('gammaQuantile: shape $shape, scale $scale, p $p (COMPUTED: R qgamma)', row => {
    expectClose(gammaQuantile(row.p, row.shape, row.scale), row.quantile, HOLDS)
  })

  test('gammaQuantile: undone by lowerRegularisedGamma for the shapes of model spreads 0.1 to 3', () => {
    for (const shape of [1 / 9, 0.25, 1, 4, 100])
      for (const p of [1e-4, 0.01, 0.5, 0.99, 0.9999]) {
        expectClose(lowerRegularisedGamma(shape, gammaQuantile(p, shape, 1)), p, HOLDS)
      }
  })

  test.each(intervals.poisson_intervals)(
    'chiSquareQuantile: gives the Garwood interval of $count events (COMPUTED: R poisson.test)',
    row => {
      const alpha = 1 - row.confidence
      const [low = Number.NaN, high = Number.NaN] = row.garwood_for_mean_count
      if (row.count > 0) expectClose(chiSquareQuantile(alpha / 2, 2 * row.count) / 2, low, HOLDS)
      expectClose(chiSquareQuantile(1 - alpha / 2, 2 * row.count + 2) / 2, high, HOLDS)
    },
  )

  test('functions refuse what lies outside their domain', () => {
    expect(() => gammaLn(0)).toThrow(RangeError)
    expect(() => lowerRegularisedGamma(0, 1)).toThrow(RangeError)
    expect(() => gammaQuantile(1, 1, 1)).toThrow(RangeError)
    expect(() => chiSquareQuantile(0.5, 0)).toThrow(RangeError)
  })
})
