import { describe, expect, it } from 'vitest'
import { chiSquareTail, poissonTail } from '../../src/fitting/checks/chi-square-tail.ts'
import { compareGroups } from '../../src/fitting/checks/compare-groups.ts'
import { logRank } from '../../src/fitting/checks/log-rank.ts'
import { oneIn } from '../../src/fitting/choose-model.ts'
import { fitDataOf, fitModel } from '../../src/fitting/likelihood/fit-model.ts'
import { weibull } from '../../src/fitting/models/weibull.ts'
import { joinRows, rowsOf } from '../../src/fitting/rows.ts'
import { inventedRows } from './invented.ts'

const failed = (age: number, count = 1) => ({ afterAge: age, beforeAge: age, count })
const working = (age: number, count = 1) => ({ afterAge: age, beforeAge: Infinity, count })

describe('log-rank', () => {
  it('two small groups: as written out by hand', () => {
    const a = rowsOf([failed(1), failed(3), working(4)])
    const b = rowsOf([failed(2), failed(3), failed(5)])
    // Age 1: 3 of 6; age 2: 2 of 5; age 3: 2 of 4, two fail; age 5: 0 of 1.
    const expected = 3 / 6 + 2 / 5 + (2 * 2) / 4
    const variance = (3 * 3) / 36 + (2 * 3) / 25 + ((2 * 2) / 3) * (2 / 4) * (2 / 4)
    const test = logRank([a, b])
    expect(test?.chiSquare).toBeCloseTo((2 - expected) ** 2 / variance, 12)
    expect(test?.degreesOfFreedom).toBe(1)
  })

  it('the order of groups does not matter, nor does splitting counts', () => {
    const groups = [1, 2, 3].map(seed => inventedRows(seed, 80, [{ shape: 2, life: 6 + seed }], [2, 8]))
    const forward = logRank(groups)
    const backward = logRank([...groups].reverse())
    expect(forward?.chiSquare).toBeCloseTo(backward?.chiSquare ?? 0, 9)
    expect(forward?.degreesOfFreedom).toBe(2)
  })

  it('a late-watched unit is at risk only when it is watched', () => {
    const a = rowsOf([failed(2), { startAge: 2.5, ...failed(4) }])
    const b = rowsOf([failed(3), working(5)])
    // Age 2: 1 of 3; age 3: 1 of 3; age 4: 1 of 2.
    const expected = 1 / 3 + 1 / 3 + 1 / 2
    const variance = 2 / 9 + 2 / 9 + 1 / 4
    expect(logRank([a, b])?.chiSquare).toBeCloseTo((2 - expected) ** 2 / variance, 12)
  })

  it('groups that are alike are called different about once in twenty times', () => {
    const n = 600
    let rejected = 0
    for (let seed = 0; seed < n; seed++) {
      const groups = [0, 1].map(k => inventedRows(7000 + 2 * seed + k, 60, [{ shape: 2, life: 10 }], [2, 12]))
      if ((logRank(groups)?.pValue ?? 1) < 0.05) rejected++
    }
    // Standard error 0.9 points; 3.5 of them.
    expect(Math.abs(rejected / n - 0.05)).toBeLessThan(0.032)
  })
})

describe('likelihood-ratio comparison', () => {
  it('is twice the gain of curves of their own over one curve', () => {
    const groups = [
      inventedRows(1, 100, [{ shape: 2, life: 8 }], [2, 10]),
      inventedRows(2, 100, [{ shape: 2, life: 14 }], [2, 10]),
    ]
    const own = groups.map(rows => fitModel(fitDataOf(rows), weibull, 'years')!.logLikelihood)
    const together = fitModel(fitDataOf(joinRows(groups)), weibull, 'years')!.logLikelihood
    const test = compareGroups(groups, 'years')!
    expect(test.sameCurve.chiSquare).toBeCloseTo(2 * (own[0]! + own[1]! - together), 8)
    expect(test.sameCurve.degreesOfFreedom).toBe(2)
    expect(test.sameCurve.pValue).toBeLessThan(0.001)
    expect(test.sameShape.pValue).toBeGreaterThan(0.01)
    expect(test.sameShape.chiSquare).toBeLessThan(test.sameCurve.chiSquare)
  })

  it('shapes that differ are found', () => {
    const groups = [
      inventedRows(3, 400, [{ shape: 1, life: 12 }], [2, 12]),
      inventedRows(4, 400, [{ shape: 4, life: 10 }], [2, 12]),
    ]
    expect(compareGroups(groups, 'years')?.sameShape.pValue).toBeLessThan(1e-6)
  })
})

describe('chances', () => {
  it('tails are those of tables', () => {
    expect(chiSquareTail(3.841458820694124, 1)).toBeCloseTo(0.05, 10)
    expect(chiSquareTail(0, 3)).toBe(1)
    expect(poissonTail(1, 2)).toBeCloseTo(1 - Math.exp(-2), 10)
    expect(poissonTail(3, 2)).toBeCloseTo(1 - Math.exp(-2) * (1 + 2 + 2), 10)
  })

  it('are said in words', () => {
    expect([0.0002, 0.021, 0.05, 0.62].map(oneIn)).toEqual([
      'less than once in 1,000 times',
      'about once in 50 times',
      'about once in 20 times',
      'about 6 times in 10',
    ])
  })
})
