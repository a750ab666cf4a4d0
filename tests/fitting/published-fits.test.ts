import { describe, expect, it } from 'vitest'
import { fitDataOf, fitModel } from '../../src/fitting/likelihood/fit-model.ts'
import { pool } from '../../src/fitting/likelihood/pool.ts'
import { deltaStandardError, estimateOf } from '../../src/fitting/likelihood/profile.ts'
import { ageFailed, meanLifeQuantity, ownFigure, shareFailedBy } from '../../src/fitting/likelihood/quantity.ts'
import { lifeBound, lifeForShape } from '../../src/fitting/models/fixed-shape.ts'
import { weibull } from '../../src/fitting/models/weibull.ts'
import { rowsOf } from '../../src/fitting/rows.ts'
import { estimationCases, type ReferenceCase, reference, referenceRows } from './reference.ts'

const relative = (value: number | null | undefined, expected: number) => Math.abs((value ?? Number.NaN) / expected - 1)

function fitOf(one: ReferenceCase) {
  const fit = fitModel(fitDataOf(referenceRows(one.rows)), weibull, 'years')
  if (fit === null) throw new Error(`${one.id} has no fit`)
  return fit
}

describe('one Weibull curve on published data', () => {
  it.each(estimationCases)('$id: estimates to 1e-9, log-likelihood to 1e-8', one => {
    const fit = fitOf(one)
    expect(relative(fit.modes[0]?.shape, one.expected.shape)).toBeLessThan(1e-9)
    expect(relative(fit.modes[0]?.life, one.expected.scale)).toBeLessThan(1e-9)
    expect(Math.abs(fit.logLikelihood - one.expected.log_likelihood)).toBeLessThan(1e-8)
    expect(Math.abs(4 - 2 * fit.logLikelihood - one.expected.aic)).toBeLessThan(1e-7)
  })

  it.each(estimationCases)('$id: standard errors and covariance to 1e-6', one => {
    const fit = fitOf(one)
    const shape = estimateOf(fit, ownFigure(fit.form, 0))
    const life = estimateOf(fit, ownFigure(fit.form, 1))
    expect(relative(Math.sqrt(fit.covariance[0]?.[0] ?? 0), one.expected.se_log_shape)).toBeLessThan(1e-6)
    expect(relative(Math.sqrt(fit.covariance[1]?.[1] ?? 0), one.expected.se_log_scale)).toBeLessThan(1e-6)
    expect(relative(fit.covariance[0]?.[1], one.expected.cov_log_scale_log_shape)).toBeLessThan(1e-6)
    expect(relative(shape.standardError, one.expected.se_shape)).toBeLessThan(1e-6)
    expect(relative(life.standardError, one.expected.se_scale)).toBeLessThan(1e-6)
  })

  it.each(estimationCases)('$id: profile bounds of shape and life to 1e-7', one => {
    const fit = fitOf(one)
    const shape = estimateOf(fit, ownFigure(fit.form, 0)).profile95
    const life = estimateOf(fit, ownFigure(fit.form, 1)).profile95
    for (const side of [0, 1] as const) {
      expect(relative(shape[side], one.expected.shape_ci95_likelihood_ratio[side])).toBeLessThan(1e-7)
      expect(relative(life[side], one.expected.scale_ci95_likelihood_ratio[side])).toBeLessThan(1e-7)
    }
  })

  it.each(estimationCases)('$id: B10, median, mean life and survival with their errors', one => {
    const fit = fitOf(one)
    const mean = meanLifeQuantity(fit.form)
    expect(relative(mean.figure(mean.at(fit.x)), one.expected.mean_life)).toBeLessThan(1e-9)
    for (const { p, estimate, se_log } of one.expected.quantiles) {
      const quantity = ageFailed(fit.form, p)
      expect(relative(quantity.figure(quantity.at(fit.x)), estimate)).toBeLessThan(1e-9)
      expect(relative(deltaStandardError(fit, quantity), se_log)).toBeLessThan(1e-6)
    }
    for (const { t, survival, ci95_wald_cloglog } of one.expected.survival ?? []) {
      const quantity = shareFailedBy(fit.form, t)
      const scaled = quantity.at(fit.x)
      expect(relative(1 - quantity.figure(scaled), survival)).toBeLessThan(1e-9)
      const spread = 1.959963984540054 * deltaStandardError(fit, quantity)
      expect(relative(1 - quantity.figure(scaled + spread), ci95_wald_cloglog[0])).toBeLessThan(1e-6)
      expect(relative(1 - quantity.figure(scaled - spread), ci95_wald_cloglog[1])).toBeLessThan(1e-6)
    }
  })

  it('printed figures are matched to their rounding', () => {
    const nist = fitOf(estimationCases.find(({ id }) => id === 'nist_8413')!)
    expect(nist.modes[0]?.life).toBeCloseTo(606.528, 2)
    expect(nist.modes[0]?.shape).toBeCloseTo(1.7208, 4)
    expect(nist.logLikelihood).toBeCloseTo(-75.135, 2)
    expect(fitOf(estimationCases.find(({ id }) => id === 'ball_bearing')!).modes[0]?.shape).toBeCloseTo(2.102, 3)
  })

  it('bounds of quantities: the likelihood has fallen by half the χ² quantile there, all else chosen at its best', () => {
    const fit = fitOf(estimationCases.find(({ id }) => id === 'shock_absorber')!)
    // With one curve and a B10 life held, the shape alone is left: scan it.
    const [low, high] = estimateOf(fit, ageFailed(fit.form, 0.1)).profile95
    for (const bound of [low, high]) {
      let best = -Infinity
      for (let logShape = -1; logShape < 2.5; logShape += 0.0005) {
        const logLife = Math.log(bound ?? 0) - Math.log(-Math.log(0.9)) / Math.exp(logShape)
        best = Math.max(best, fit.evaluate([logShape, logLife]).value)
      }
      expect(2 * (fit.pooledMaximum - best)).toBeCloseTo(3.841458820694124, 4)
    }
  })
})

describe('bound with few or no failures', () => {
  const cases = reference<{
    zero_failure: {
      assumed_shape: number
      units: number
      time_on_each: number
      failures_at_end_of_test: number
      confidence: number
      scale_lower_bound: number
      scale_ml?: number
    }[]
  }>('weibull-estimation').zero_failure

  it.each(cases)('$units units, $failures_at_end_of_test failures, shape $assumed_shape: to 1e-9', one => {
    const pooled = pool(
      rowsOf([
        { afterAge: one.time_on_each, beforeAge: Infinity, count: one.units - one.failures_at_end_of_test },
        ...(one.failures_at_end_of_test > 0
          ? [{ afterAge: one.time_on_each, beforeAge: one.time_on_each, count: one.failures_at_end_of_test }]
          : []),
      ]),
    )
    expect(relative(lifeBound(pooled, one.assumed_shape, one.confidence), one.scale_lower_bound)).toBeLessThan(1e-9)
    if (one.scale_ml !== undefined) {
      expect(relative(lifeForShape(pooled, one.assumed_shape), one.scale_ml)).toBeLessThan(1e-9)
    }
  })
})
