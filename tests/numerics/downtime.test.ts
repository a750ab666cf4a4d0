import { describe, expect, test } from 'vitest'
import { lognormalMean, lognormalSigma } from '../../src/numerics/distributions/lognormal.ts'
import { type DelaySpread, downtimeNodes } from '../../src/numerics/renewal/downtime.ts'
import { expectClose } from './relative.ts'

const SLOW: readonly DelaySpread[] = [
  { medianDays: 120, p90OverMedian: 5.8 },
  { medianDays: 20, p90OverMedian: 3.21 },
  { medianDays: 0.2, p90OverMedian: 1 },
]
const QUICK: readonly DelaySpread[] = [
  { medianDays: 3, p90OverMedian: 2.3 },
  { medianDays: 10, p90OverMedian: 3.5 },
]

function sums(delays: readonly DelaySpread[]) {
  const { nodesYears, weights } = downtimeNodes(delays, 365)
  const moment = (power: number) =>
    nodesYears.reduce((sum, node, i) => sum + (weights[i] ?? 0) * (365 * node) ** power, 0)
  return {
    count: nodesYears.length,
    total: moment(0),
    mean: moment(1),
    variance: moment(2) - moment(1) ** 2,
    nodesYears,
  }
}

describe('O1: downtime as values with probabilities', () => {
  test.each([
    ['slow', SLOW],
    ['quick', QUICK],
  ])('%s: probabilities sum to 1, the mean is exact, at most 24 nodes, ascending', (_, delays) => {
    const { count, total, mean, nodesYears } = sums(delays)
    const exact = delays.reduce((sum, d) => sum + lognormalMean(d.medianDays, lognormalSigma(d.p90OverMedian)), 0)
    expectClose(total, 1, 1e-12)
    expectClose(mean, exact, 1e-12)
    expect(count).toBeLessThanOrEqual(24)
    expect([...nodesYears]).toEqual([...nodesYears].sort((a, b) => a - b))
  })

  test('the spread is kept to a hundredth for usual delays', () => {
    const variance = QUICK.reduce((sum, d) => {
      const s2 = lognormalSigma(d.p90OverMedian) ** 2
      return sum + d.medianDays ** 2 * Math.exp(s2) * Math.expm1(s2)
    }, 0)
    expectClose(sums(QUICK).variance, variance, 0.01)
  })

  test('eight points are exact for polynomials up to degree 15: the logarithm of one lognormal has normal moments', () => {
    const { nodesYears, weights } = downtimeNodes(
      [{ medianDays: 365, p90OverMedian: Math.exp(1.2815515655446004) }],
      365,
    )
    const scale = Math.log(nodesYears[3] ?? 1) + Math.log(nodesYears[4] ?? 1) // the shared factor of the mean, twice
    const moment = (power: number) =>
      nodesYears.reduce((sum, node, i) => sum + (weights[i] ?? 0) * (Math.log(node) - scale / 2) ** power, 0)
    for (const [power, normal] of [
      [2, 1],
      [4, 3],
      [6, 15],
      [8, 105],
      [10, 945],
      [14, 135_135],
    ] as const) {
      expectClose(moment(power), normal, 1e-11, `moment ${power}`)
    }
  })

  test('fixed delays are one node; no delay is none', () => {
    const fixed = downtimeNodes(
      [
        { medianDays: 10, p90OverMedian: 1 },
        { medianDays: 26.5, p90OverMedian: 1 },
      ],
      365,
    )
    expect([...fixed.nodesYears]).toEqual([36.5 / 365])
    expect([...fixed.weights]).toEqual([1])
    expect([...downtimeNodes([], 365).nodesYears]).toEqual([0])
  })
})
