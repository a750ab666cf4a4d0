import { describe, expect, test } from 'vitest'
import { splitVariance, varianceShares } from '../../src/analysis/option/variance-split.ts'
import { meanOf } from '../worlds.ts'
import { gammaOfMean1, poisson, uniforms } from './generator.ts'

const varianceOf = (values: readonly number[]): number => {
  const mean = meanOf(values)
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1)
}

/** Poisson counts, each set with a rate of its own. */
function counts(sets: number, perSet: number, mean: number, gammaShape: number, seed: number) {
  const random = uniforms(seed)
  const rates = Array.from({ length: sets }, () => mean * gammaOfMean1(random, gammaShape))
  return {
    rates,
    values: Float64Array.from(rates.flatMap(rate => Array.from({ length: perSet }, () => poisson(random, rate)))),
  }
}

describe('U2: variance split into chance and not known', () => {
  test('U2: by hand: two sets of two', () => {
    // means 2 and 6: their variance is 8, and half of the variance within (2) is chance
    const split = splitVariance(Float64Array.of(1, 3, 5, 7), 2)
    expect(split).toEqual({ within: 2, between: 7, drawsPerSet: 2, sets: 2 })
    expect(varianceShares(split)).toEqual({ chanceShare: 2 / 9, unknownShare: 7 / 9 })
  })

  test('U2: sets that differ less than by chance have an unknown share of 0, never below 0', () => {
    const split = splitVariance(Float64Array.of(0, 10, 10, 0), 2)
    expect(split.between).toBe(0)
    expect(varianceShares(split)).toEqual({ chanceShare: 1, unknownShare: 0 })
  })

  test('U2: one set is all chance; N4: no variance has no shares', () => {
    expect(varianceShares(splitVariance(Float64Array.of(1, 2, 3), 3))).toEqual({ chanceShare: 1, unknownShare: 0 })
    expect(varianceShares(splitVariance(new Float64Array(40).fill(7), 20))).toEqual({
      chanceShare: null,
      unknownShare: null,
    })
  })

  test.each([
    [5, 4, 1],
    [2, 1, 2],
    [8, 9, 3],
  ])(
    'U2: Poisson counts of mean %d, gamma rate of shape %d: chance is the mean, the rest mean²/shape',
    (mean, shape, seed) => {
      const [sets, perSet] = [4000, 20]
      const { within, between } = splitVariance(counts(sets, perSet, mean, shape, seed).values, perSet)
      const trueBetween = mean ** 2 / shape
      // sampling errors from the fourth moments of Poisson and gamma, z under 4.5: one false alarm in 150,000
      const squareOfRate = mean ** 2 + trueBetween
      const withinError = Math.sqrt(((2.11 * squareOfRate + mean) / perSet + trueBetween) / sets)
      const spread = trueBetween + mean / perSet
      const betweenError = spread * Math.sqrt((2 + 6 / shape) / sets)
      expect(Math.abs(within - mean)).toBeLessThan(4.5 * withinError)
      expect(Math.abs(between - trueBetween)).toBeLessThan(4.5 * betweenError)
    },
  )

  test('U2: brute force: the bias of few draws a set is gone, whatever their number', () => {
    const sets = 3000
    for (const perSet of [2, 5, 20]) {
      const { rates, values } = counts(sets, perSet, 5, 4, 10 + perSet)
      const means = rates.map((_, set) => meanOf([...values.subarray(set * perSet, (set + 1) * perSet)]))
      const { between } = splitVariance(values, perSet)
      const known = varianceOf(rates)
      // left as it is, the variance of the means holds 5/n of chance: with 2 draws a set that is 2.5 of 8.75
      if (perSet === 2) expect(varianceOf(means)).toBeGreaterThan(known + 1.5)
      // against the variance of these very rates: moments of the chance in the means, and of the variance taken off
      const rateSquared = 25 + 25 / 4
      const rateCubed = 5 * (25 / 4) + (2 * 125) / 16 // rate times its squared distance from the mean
      const ofMeans = (2 * rateSquared) / perSet ** 2 + (4 * rateCubed) / perSet
      const ofWithin = (3 * rateSquared + 5 - (rateSquared * (perSet - 3)) / (perSet - 1)) / perSet ** 3
      const error = Math.sqrt((ofMeans + ofWithin) / sets)
      expect(Math.abs(between - known)).toBeLessThan(4.5 * error)
    }
  })
})
