import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fromTwoPoints, lifeFromB10, lifeFromMean } from '../../src/numerics/lives/weibull.ts'
import reference from '../reference/quantiles-intervals.json' with { type: 'json' }
import policies from '../reference/replacement-policy.json' with { type: 'json' }
import { expectClose } from './relative.ts'
import {
  b10,
  hazard,
  meanLife,
  meanResidualLife,
  quantile,
  residualQuantile,
  residualSurvival,
  survival,
  variance,
  weibullCumulativeHazard,
} from './weibull-life.ts'

describe('M1: the Weibull life agrees with reference values (COMPUTED: R and mpmath)', () => {
  test.each(reference.weibull)('shape $shape, scale $scale: quantile at $p, mean, variance, median', row => {
    const weibull = { shape: row.shape, lifeYears: row.scale }
    expectClose(quantile(row.p, weibull), row.quantile, 1e-12)
    expectClose(quantile(0.5, weibull), row.median, 1e-12)
    expectClose(meanLife(weibull), row.mean, 1e-9)
    expectClose(variance(weibull), row.variance, 1e-9)
  })

  test.each(reference.weibull_residual)('C6, M2: shape $shape, scale $scale, alive at $age', row => {
    const weibull = { shape: row.shape, lifeYears: row.scale }
    for (const [further, share] of Object.entries(row.prob_survive_further)) {
      expectClose(residualSurvival(Number(further), row.age, weibull), share, 1e-12)
    }
    expectClose(residualQuantile(0.5, row.age, weibull), row.median_residual_life, 1e-12)
    expectClose(meanResidualLife(row.age, weibull), row.mean_residual_life, 1e-10)
  })
})

test.each(policies.minimal_repair)('M3: minimal repair, shape $shape: failures are the cumulative hazard', row => {
  const weibull = { shape: row.shape, lifeYears: row.scale }
  expectClose(weibullCumulativeHazard(row.horizon, weibull), row.expected_failures, 1e-12)
  expectClose(1 - survival(row.horizon, weibull), row.prob_at_least_1, 1e-12)
})

describe('M1: the forms of a Weibull life agree', () => {
  const weibulls = fc.record({
    shape: fc.double({ min: 0.3, max: 30, noNaN: true }),
    lifeYears: fc.double({ min: 0.5, max: 500, noNaN: true }),
  })

  test('B10, mean and two points lead back to the life they came from', () => {
    fc.assert(
      fc.property(weibulls, weibull => {
        expectClose(lifeFromB10(b10(weibull), weibull.shape), weibull.lifeYears, 1e-12)
        expectClose(lifeFromMean(meanLife(weibull), weibull.shape), weibull.lifeYears, 1e-12)
        const at = (ageYears: number) => ({ ageYears, cumulativeHazard: weibullCumulativeHazard(ageYears, weibull) })
        const solved = fromTwoPoints(at(weibull.lifeYears * 0.5), at(weibull.lifeYears * 1.1))
        expectClose(solved.shape, weibull.shape, 1e-9)
        expectClose(solved.lifeYears, weibull.lifeYears, 1e-9)
      }),
      { seed: 1 },
    )
  })

  test('survival falls from 1, and 36.8 % live to the characteristic life', () => {
    fc.assert(
      fc.property(weibulls, fc.double({ min: 0, max: 3, noNaN: true }), (weibull, times) => {
        expect(survival(0, weibull)).toBe(1)
        expectClose(survival(weibull.lifeYears, weibull), Math.exp(-1), 1e-12)
        expect(survival(weibull.lifeYears * (times + 0.1), weibull)).toBeLessThanOrEqual(
          survival(weibull.lifeYears * times, weibull),
        )
      }),
      { seed: 2 },
    )
  })

  test('the hazard is the slope of its sum, and infinite at age 0 for early failures', () => {
    const weibull = { shape: 1.7, lifeYears: 14 }
    const slope = (weibullCumulativeHazard(6.001, weibull) - weibullCumulativeHazard(5.999, weibull)) / 0.002
    expectClose(hazard(6, weibull), slope, 1e-7)
    expect(hazard(0, { shape: 0.7, lifeYears: 1 })).toBe(Number.POSITIVE_INFINITY)
  })

  test('a unit without wear has the same mean residual life at any age, however far in the tail', () => {
    for (const age of [0, 1, 20, 400, 2000]) expectClose(meanResidualLife(age, { shape: 1, lifeYears: 12 }), 12, 1e-12)
  })

  test('C6: mean residual life is the area under the residual survival, on both sides of the change of method', () => {
    for (const shape of [0.6, 2.2, 3.5])
      for (const age of [3, 12, 20, 40]) {
        const weibull = { shape, lifeYears: 14 }
        const last = residualQuantile(1 - 1e-12, age, weibull)
        // Simpson's rule over the quantiles' range, on a grid that is fine where survival falls fast.
        const n = 20_000
        const at = (i: number) => last * (i / n) ** 2
        const weighted = (i: number) => residualSurvival(at(i), age, weibull) * ((2 * last * i) / n)
        let area = weighted(0) + weighted(n)
        for (let i = 1; i < n; i++) area += (i % 2 === 1 ? 4 : 2) * weighted(i)
        expectClose(meanResidualLife(age, weibull), area / (3 * n), 1e-9, `shape ${shape} age ${age}`)
      }
  })

  test('points that do not rise are refused', () => {
    const point = { ageYears: 10, cumulativeHazard: 0.2 }
    const flat = { ageYears: 15, cumulativeHazard: 0.2 }
    expect(() => fromTwoPoints(point, flat)).toThrow(
      'fromTwoPoints: age and cumulative hazard must both rise from the first point to the second',
    )
  })
})
