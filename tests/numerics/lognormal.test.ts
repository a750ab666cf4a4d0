import { describe, expect, test } from 'vitest'
import { lognormalMean, lognormalSigma } from '../../src/numerics/distributions/lognormal.ts'
import { normalQuantile } from '../../src/numerics/special.ts'
import reference from '../reference/quantiles-intervals.json' with { type: 'json' }
import { expectClose } from './relative.ts'

/** The value that a share of the delays stays under: median·exp(sigma·z(p)). */
function lognormalQuantile(p: number, median: number, sigma: number): number {
  return median === 0 || sigma === 0 ? median : median * Math.exp(sigma * normalQuantile(p))
}

describe('O1: lognormal delays', () => {
  test.each(reference.lognormal)('log-mean $mean_log, log-sd $sd_log at $p (COMPUTED: R qlnorm)', row => {
    expectClose(lognormalQuantile(row.p, Math.exp(row.mean_log), row.sd_log), row.quantile, 1e-9)
  })

  test('the p90 given is the p90 that is played', () => {
    for (const ratio of [1.5, 3.21, 5.83]) {
      expectClose(lognormalQuantile(0.9, 12, lognormalSigma(ratio)), 12 * ratio, 1e-12)
    }
  })

  test('without spread every quantile and the mean are the median', () => {
    expect(lognormalQuantile(0.99, 5, lognormalSigma(1))).toBe(5)
    expect(lognormalMean(5, 0)).toBe(5)
    expect(lognormalQuantile(0.9, 0, 1)).toBe(0)
  })

  test('the mean is the mean of the quantiles', () => {
    const n = 200_000
    let sum = 0
    for (let i = 0; i < n; i++) sum += lognormalQuantile((i + 0.5) / n, 10, 0.6)
    expectClose(lognormalMean(10, 0.6), sum / n, 1e-5)
  })

  test('a p90 under the median is refused', () => {
    expect(() => lognormalSigma(0.9)).toThrow('lognormalSigma: p90/median must be >= 1, got 0.9')
  })
})
