import { describe, expect, it } from 'vitest'
import { fitDataOf, fitModel } from '../../src/fitting/likelihood/fit-model.ts'
import { jointDraws, N_DRAWS } from '../../src/fitting/likelihood/joint-draws.ts'
import { priorAddition } from '../../src/fitting/likelihood/prior.ts'
import { competing2 } from '../../src/fitting/models/competing.ts'
import { weibull } from '../../src/fitting/models/weibull.ts'
import { inventedRows } from './invented.ts'
import { estimationCases, referenceRows } from './reference.ts'

/** Mean and deviation of ln shape and ln life under a density, by summing a fine grid. */
function gridMoments(
  logDensity: (x: readonly number[]) => number,
  centre: readonly number[],
  reach: readonly number[],
) {
  const n = 300
  const points: [number, number, number][] = []
  let largest = -Infinity
  for (let i = 0; i <= n; i++) {
    for (let j = 0; j <= n; j++) {
      const x = centre[0]! + reach[0]! * ((2 * i) / n - 1)
      const y = centre[1]! + reach[1]! * ((2 * j) / n - 1)
      const value = logDensity([x, y])
      points.push([x, y, value])
      largest = Math.max(largest, value)
    }
  }
  const weights = points.map(point => Math.exp(point[2] - largest))
  const total = weights.reduce((sum, value) => sum + value, 0)
  const mean = [0, 1].map(k => points.reduce((sum, point, i) => sum + weights[i]! * point[k]!, 0) / total)
  const deviation = [0, 1].map(k =>
    Math.sqrt(points.reduce((sum, point, i) => sum + weights[i]! * (point[k]! - mean[k]!) ** 2, 0) / total),
  )
  return { mean, deviation }
}

function drawnMoments(values: readonly (readonly [number, number])[]) {
  const mean = [0, 1].map(k => values.reduce((sum, value) => sum + Math.log(value[k]!), 0) / values.length)
  const deviation = [0, 1].map(k =>
    Math.sqrt(values.reduce((sum, value) => sum + (Math.log(value[k]!) - mean[k]!) ** 2, 0) / values.length),
  )
  return { mean, deviation }
}

describe('joint draws', () => {
  it.each(['shock_absorber', 'ball_bearing', 'turbine_cracks_interval'])(
    '%s: with a flat prior they are the likelihood, as a fine grid has it',
    id => {
      const fit = fitModel(
        fitDataOf(referenceRows(estimationCases.find(one => one.id === id)!.rows)),
        weibull,
        'years',
      )!
      const { draws, effectiveDraws } = jointDraws(fit, 'all', 1)!
      const grid = gridMoments(x => fit.evaluate(x).value, fit.x, [1.6, 1.4])
      const drawn = drawnMoments(draws.map(modes => [modes[0]!.shape, modes[0]!.life]))
      expect(effectiveDraws).toBeGreaterThan(1000)
      for (const k of [0, 1]) {
        // 200 draws place a mean within 0.07 deviations (one error); four of them.
        expect(Math.abs(drawn.mean[k]! - grid.mean[k]!)).toBeLessThan(0.28 * grid.deviation[k]!)
        expect(drawn.deviation[k]! / grid.deviation[k]!).toBeGreaterThan(0.8)
        expect(drawn.deviation[k]! / grid.deviation[k]!).toBeLessThan(1.2)
      }
    },
  )

  it('with a prior they are likelihood times prior, and the estimate is its top', () => {
    const rows = referenceRows(estimationCases.find(one => one.id === 'generator_fan')!.rows)
    const addition = priorAddition({ shape: [1.5, 4], life: [5000, 20000] })
    const fit = fitModel(fitDataOf(rows), weibull, 'hours', addition)!
    expect(Math.max(...fit.evaluate(fit.x).gradient.map(Math.abs))).toBeLessThan(1e-6)
    const { draws } = jointDraws(fit, 'all', 1, addition)!
    const grid = gridMoments(x => fit.evaluate(x).value, fit.x, [1.2, 1.5])
    const drawn = drawnMoments(draws.map(modes => [modes[0]!.shape, modes[0]!.life]))
    for (const k of [0, 1]) expect(Math.abs(drawn.mean[k]! - grid.mean[k]!)).toBeLessThan(0.28 * grid.deviation[k]!)
  })

  it('an empty prior changes nothing', () => {
    const data = fitDataOf(referenceRows(estimationCases[1]!.rows))
    const plain = fitModel(data, weibull, 'years')!
    const flat = fitModel(data, weibull, 'years', priorAddition({ shape: null, life: null }))!
    expect(flat.x).toEqual(plain.x)
    expect(jointDraws(flat, 'all', 1, priorAddition({ shape: null, life: null }))).toEqual(jointDraws(plain, 'all', 1))
  })

  it('are 200, in rising order of mean life, and the same for the same seed', () => {
    const fit = fitModel(
      fitDataOf(
        inventedRows(
          13,
          3000,
          [
            { shape: 0.6, life: 120 },
            { shape: 4, life: 14 },
          ],
          [1, 16],
        ),
      ),
      competing2,
      'years',
    )!
    const { draws } = jointDraws(fit, 'all', 1)!
    expect(draws).toHaveLength(N_DRAWS)
    const means = draws.map(modes => {
      let sum = 0
      for (let age = 0.05; age < 60; age += 0.1) {
        sum += 0.1 * Math.exp(-modes.reduce((hazard, { shape, life }) => hazard + (age / life) ** shape, 0))
      }
      return sum
    })
    means.forEach((mean, i) => {
      if (i > 0) expect(mean).toBeGreaterThan(means[i - 1]! * 0.999)
    })
    expect(jointDraws(fit, 'all', 1)!.draws).toEqual(draws)
    expect(jointDraws(fit, 'all', 2)!.draws).not.toEqual(draws)
  })
})
