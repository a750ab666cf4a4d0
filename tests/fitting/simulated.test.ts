import { describe, expect, it } from 'vitest'
import { goodnessOf } from '../../src/fitting/checks/goodness.ts'
import { chooseModel } from '../../src/fitting/choose-model.ts'
import { fitDataOf, fitModel } from '../../src/fitting/likelihood/fit-model.ts'
import { profileBounds } from '../../src/fitting/likelihood/profile.ts'
import { ageFailed, ownFigure, shareFailedBy } from '../../src/fitting/likelihood/quantity.ts'
import { competing2 } from '../../src/fitting/models/competing.ts'
import { weibull } from '../../src/fitting/models/weibull.ts'
import { weibullEarly } from '../../src/fitting/models/weibull-early.ts'
import { inventedRows } from './invented.ts'

describe('coverage', () => {
  // 1,000 fits: the standard error of a coverage of 90 % is 0.95 points, so 87 to 93 is 3.2 of them either way.
  it('90 % profile intervals contain the truth in 87 to 93 of 100 fits, with seven in ten units still working', () => {
    const truth = { shape: 2, life: 12 }
    const b10 = truth.life * (-Math.log(0.9)) ** (1 / truth.shape)
    const by10 = 1 - Math.exp(-((10 / truth.life) ** truth.shape))
    const held = { shape: 0, life: 0, b10: 0, by10: 0 }
    const n = 1000
    for (let seed = 0; seed < n; seed++) {
      const fit = fitModel(fitDataOf(inventedRows(seed, 120, [truth], [2, 11])), weibull, 'years')
      if (fit === null) continue
      const holds = (bounds: readonly [number | null, number | null], value: number) =>
        (bounds[0] ?? 0) <= value && value <= (bounds[1] ?? Infinity) ? 1 : 0
      held.shape += holds(profileBounds(fit, ownFigure(fit.form, 0), 0.9), truth.shape)
      held.life += holds(profileBounds(fit, ownFigure(fit.form, 1), 0.9), truth.life)
      held.b10 += holds(profileBounds(fit, ageFailed(fit.form, 0.1), 0.9), b10)
      held.by10 += holds(profileBounds(fit, shareFailedBy(fit.form, 10), 0.9), by10)
    }
    for (const count of Object.values(held)) {
      expect(count / n).toBeGreaterThan(0.87)
      expect(count / n).toBeLessThan(0.93)
    }
  })

  it('the test of agreement rejects a true curve about once in twenty times, and finds a bent one', () => {
    const n = 400
    let rejected = 0
    for (let seed = 0; seed < n; seed++) {
      const fit = fitModel(
        fitDataOf(inventedRows(5000 + seed, 300, [{ shape: 2, life: 12 }], [2, 14])),
        weibull,
        'years',
      )
      if (fit !== null && (goodnessOf(fit).pValue ?? 1) < 0.05) rejected++
    }
    // Standard error 1.1 points: 1.2 to 9.5 % is 3.5 below and 4 above.
    expect(rejected / n).toBeGreaterThan(0.012)
    expect(rejected / n).toBeLessThan(0.095)
    const bent = inventedRows(
      1,
      2000,
      [
        { shape: 0.5, life: 60 },
        { shape: 5, life: 12 },
      ],
      [2, 14],
    )
    const fit = fitModel(fitDataOf(bent), weibull, 'years')
    expect(goodnessOf(fit!).pValue).toBeLessThan(1e-6)
  })
})

describe('recovery of an invented truth', () => {
  it('one curve: within three errors', () => {
    const fit = fitModel(fitDataOf(inventedRows(11, 5000, [{ shape: 2.4, life: 15 }], [1, 14])), weibull, 'years')!
    expect(Math.abs(fit.x[0]! - Math.log(2.4))).toBeLessThan(3 * Math.sqrt(fit.covariance[0]![0]!))
    expect(Math.abs(fit.x[1]! - Math.log(15))).toBeLessThan(3 * Math.sqrt(fit.covariance[1]![1]!))
  })

  it('a share of early faults: found, chosen, and within three errors', () => {
    const rows = inventedRows(
      12,
      6000,
      [
        { shape: 3, life: 16 },
        { shape: 0.7, life: 1, share: 0.04 },
      ],
      [1, 14],
    )
    const data = fitDataOf(rows)
    const plain = fitModel(data, weibull, 'years')!
    const early = fitModel(data, weibullEarly, 'years')!
    expect(chooseModel([plain, early]).best).toBe(early)
    const truth = [Math.log(3), Math.log(16), Math.log(0.04 / 0.96)]
    truth.forEach((value, i) => {
      expect(Math.abs(early.x[i]! - value)).toBeLessThan(3 * Math.sqrt(early.covariance[i]![i]!))
    })
  })

  it('two causes: found, chosen, and within three errors', () => {
    const rows = inventedRows(
      13,
      8000,
      [
        { shape: 0.6, life: 120 },
        { shape: 4, life: 14 },
      ],
      [1, 16],
    )
    const data = fitDataOf(rows)
    const plain = fitModel(data, weibull, 'years')!
    const two = fitModel(data, competing2, 'years')!
    expect(chooseModel([plain, two]).best).toBe(two)
    const truth = [Math.log(0.6), Math.log(120), Math.log(4), Math.log(14)]
    truth.forEach((value, i) => {
      expect(Math.abs(two.x[i]! - value)).toBeLessThan(3 * Math.sqrt(two.covariance[i]![i]!))
    })
  })

  it('one curve is kept when one curve is the truth', () => {
    let kept = 0
    for (let seed = 0; seed < 40; seed++) {
      const data = fitDataOf(inventedRows(900 + seed, 400, [{ shape: 2, life: 12 }], [2, 12]))
      const plain = fitModel(data, weibull, 'years')!
      const richer = [weibullEarly, competing2].flatMap(model => fitModel(data, model, 'years') ?? [])
      if (chooseModel([plain, ...richer]).best === plain) kept++
    }
    expect(kept).toBeGreaterThan(32)
  })
})
