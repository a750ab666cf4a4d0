import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { AgeTable } from '../../src/numerics/lives/age-table.ts'
import { ageAtHazard, cumulativeHazard, failureMode, modeAtFailure } from '../../src/numerics/lives/competing-risks.ts'
import { DenseAges } from '../../src/numerics/lives/dense-ages.ts'
import { expectClose } from './relative.ts'
import * as weibull from './weibull-life.ts'

const EARLY = failureMode('early', 0.03, 0.7, 1)
const CHANCE = failureMode('chance', 1, 1, 60)
const WEAR = failureMode('wear-out', 1, 3.5, 22)

const anyMode = fc
  .record({
    susceptible: fc.oneof(fc.constant(1), fc.double({ min: 0.005, max: 1, noNaN: true })),
    shape: fc.double({ min: 0.4, max: 20, noNaN: true }),
    lifeYears: fc.double({ min: 0.5, max: 200, noNaN: true }),
  })
  .map(mode => failureMode('any', mode.susceptible, mode.shape, mode.lifeYears))
const anyModes = fc.array(anyMode, { minLength: 1, maxLength: 4 })

describe('M1: the age at failure of a unit with several modes', () => {
  test('one mode of all units is the Weibull life', () => {
    for (const age of [0.01, 1, 10, 40]) {
      expectClose(cumulativeHazard([WEAR], age), weibull.weibullCumulativeHazard(age, WEAR), 1e-12)
    }
    expectClose(ageAtHazard([WEAR], Math.LN2), weibull.quantile(0.5, WEAR), 1e-12)
  })

  test('survival is the product over modes of those not susceptible and those who live', () => {
    for (const age of [1e-6, 0.1, 1, 5, 15, 30]) {
      const alive = (1 - 0.03 + 0.03 * Math.exp(-(age ** 0.7))) * Math.exp(-age / 60) * Math.exp(-((age / 22) ** 3.5))
      expect(Math.abs(Math.exp(-cumulativeHazard([EARLY, CHANCE, WEAR], age)) - alive)).toBeLessThan(1e-14)
    }
  })

  test('a hazard of 1e-12 is not lost in rounding', () => {
    const age = 1e-16
    expectClose(cumulativeHazard([EARLY], age), 0.03 * age ** 0.7, 1e-9)
  })

  test.each([
    [10_000, 10, 12],
    [500, 10, 45],
    [10_000, 1e-3, 60],
  ])(
    'past a sharp life the hazard stays a number, rises, and is inverted: shape %d, life %d, age %d',
    (shape, life, age) => {
      for (const modes of [
        [failureMode('wear-out', 1, shape, life)],
        [CHANCE, failureMode('wear-out', 1, shape, life)],
      ]) {
        const now = cumulativeHazard(modes, age)
        expect(Number.isFinite(now)).toBe(true)
        // one in e^1000 lives a day longer
        expect(cumulativeHazard(modes, age + 1 / 365) - now).toBeGreaterThan(1000)
        expectClose(ageAtHazard(modes, now + 3), age, 1e-12)
        expectClose(new AgeTable(modes, age + 25).at(now + 3), age, 1e-12)
        expectClose(new DenseAges(modes, age + 25).at(now + 3), age, 1e-12)
      }
    },
  )

  test('the age at a hazard is where that hazard is reached', () => {
    fc.assert(
      fc.property(anyModes, fc.double({ min: 1e-6, max: 8, noNaN: true }), (modes, level) => {
        const age = ageAtHazard(modes, level)
        if (age === Infinity) {
          expect(cumulativeHazard(modes, 1e9)).toBeLessThanOrEqual(level * (1 + 1e-9))
          return
        }
        // Where nobody is left to fail the hazard is flat and its inverse ill-determined; the level is what counts.
        expect(Math.abs(cumulativeHazard(modes, age) - level)).toBeLessThanOrEqual(1e-9 * Math.max(1, level))
      }),
      { seed: 5, numRuns: 500 },
    )
  })

  test('the hazard never falls with age', () => {
    fc.assert(
      fc.property(
        anyModes,
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (modes, age, more) => {
          expect(cumulativeHazard(modes, age + more)).toBeGreaterThanOrEqual(cumulativeHazard(modes, age) * (1 - 1e-13))
        },
      ),
      { seed: 6 },
    )
  })

  test('the mode of a failure is drawn by its share of the hazard at that age', () => {
    const modes = [EARLY, CHANCE, WEAR]
    for (const age of [0.2, 3, 20]) {
      const slope = (i: number) => {
        const one = modes.slice(i, i + 1)
        return (cumulativeHazard(one, age * 1.00001) - cumulativeHazard(one, age * 0.99999)) / (age * 2e-5)
      }
      const total = slope(0) + slope(1) + slope(2)
      const n = 10_000
      const seen = [0, 0, 0]
      for (let i = 0; i < n; i++) {
        const mode = modeAtFailure(modes, age, 0, (i + 0.5) / n)
        seen[mode] = (seen[mode] ?? 0) + 1
      }
      for (const i of [0, 1, 2]) expect(Math.abs((seen[i] ?? 0) / n - slope(i) / total)).toBeLessThan(2e-4)
    }
  })

  test('M3: a cured mode has no hazard and is never drawn', () => {
    const cured = 0b001
    expect(cumulativeHazard([EARLY, CHANCE, WEAR], 5, cured)).toBe(cumulativeHazard([CHANCE, WEAR], 5))
    expect(ageAtHazard([EARLY, WEAR], 1, cured)).toBe(ageAtHazard([WEAR], 1))
    expect(modeAtFailure([EARLY, CHANCE], 0.01, cured, 1e-9)).toBe(1)
    expect(ageAtHazard([EARLY], 1, cured)).toBe(Infinity)
  })

  test('few are susceptible: no more than their share fails', () => {
    expect(ageAtHazard([EARLY], -Math.log1p(-0.031))).toBe(Infinity)
    expect(ageAtHazard([EARLY], -Math.log1p(-0.029))).toBeLessThan(100)
    expect(ageAtHazard([WEAR], 0)).toBe(0)
  })
})
