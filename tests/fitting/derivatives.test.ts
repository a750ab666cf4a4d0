import { describe, expect, it } from 'vitest'
import { coordinatesOf, type Form, logit } from '../../src/fitting/likelihood/form.ts'
import { likelihoodOf, logLikelihoodOf } from '../../src/fitting/likelihood/likelihood.ts'
import {
  fillModeTerms,
  ModeTerms,
  modeLogRate,
  modeSum,
  PAIR,
  plainMode,
} from '../../src/fitting/likelihood/mode-terms.ts'
import { pool } from '../../src/fitting/likelihood/pool.ts'
import { ageFailed, type FitQuantity, meanLifeQuantity, shareFailedBy } from '../../src/fitting/likelihood/quantity.ts'
import { FAILURE_MODELS } from '../../src/fitting/models/index.ts'
import { rowsOf } from '../../src/fitting/rows.ts'
import type { Expansion } from '../../src/numerics/newton.ts'

/** Symmetric differences of value and gradient against the derivatives given. */
function expectDerivatives(
  evaluate: (x: readonly number[]) => Expansion,
  x: readonly number[],
  tolerance: number,
): void {
  const step = 1e-5
  const here = evaluate(x)
  x.forEach((_, a) => {
    const up = evaluate(x.map((value, i) => (i === a ? value + step : value)))
    const down = evaluate(x.map((value, i) => (i === a ? value - step : value)))
    const slope = (up.value - down.value) / (2 * step)
    expect(Math.abs(slope - here.gradient[a]!)).toBeLessThan(tolerance * (1 + Math.abs(slope)))
    x.forEach((__, b) => {
      const curve = (up.gradient[b]! - down.gradient[b]!) / (2 * step)
      expect(Math.abs(curve - here.hessian[a]![b]!)).toBeLessThan(tolerance * (1 + Math.abs(curve)))
    })
  })
}

const lives = rowsOf([
  { afterAge: 3, beforeAge: 3 },
  { afterAge: 7.5, beforeAge: 7.5, count: 2 },
  { startAge: 2, afterAge: 6, beforeAge: 6 },
  { afterAge: 9, beforeAge: Infinity, count: 5 },
  { startAge: 4, afterAge: 10, beforeAge: Infinity, count: 2 },
  { afterAge: 0, beforeAge: 2, count: 2 },
  { startAge: 1, afterAge: 4, beforeAge: 5 },
])

const POINTS: Readonly<Record<string, readonly (readonly number[])[]>> = {
  weibull: [
    [0.3, 2.2],
    [-0.5, 3],
    [1.2, 1.9],
  ],
  'weibull+early': [
    [0.7, 2.4, -3],
    [0.1, 3, 0.5],
  ],
  'competing-2': [
    [-0.4, 3.5, 1, 2.3],
    [0.2, 2.2, 0.4, 2.9],
  ],
  'competing-3': [[-0.4, 3.5, 0.2, 3, 1.1, 2.4]],
}

describe('derivatives', () => {
  it('a mode: all of G and ln g, with and without a susceptible share, agree with differences', () => {
    for (const logitShare of [-3, 0.4, 4, Infinity]) {
      for (const [logShape, logLife] of [
        [-0.4, 1],
        [0.9, 2.5],
        [1.6, 0.5],
      ] as const) {
        for (const age of [0.05, 1, 4, 12]) {
          const at = (x: readonly number[]) => ({
            logShape: x[0]!,
            logLife: x[1]!,
            logitShare: logitShare === Infinity ? Infinity : x[2]!,
          })
          const parts: readonly ((terms: ModeTerms) => [number, Float64Array, Float64Array])[] = [
            terms => [terms.sum, terms.sum1, terms.sum2],
            terms => [terms.logRate, terms.logRate1, terms.logRate2],
          ]
          for (const part of parts) {
            expectDerivatives(
              x => {
                const terms = new ModeTerms()
                fillModeTerms(at(x), Math.log(age), terms)
                const [value, first, second] = part(terms)
                return {
                  value,
                  gradient: [...first],
                  hessian: PAIR.map(row => row.map(k => second[k]!)),
                }
              },
              [logShape, logLife, logitShare === Infinity ? 0 : logitShare],
              2e-6,
            )
          }
        }
      }
    }
  })

  it.each(FAILURE_MODELS)('$name: gradient and second derivatives of the likelihood agree with differences', model => {
    const form = model.form('years')
    for (const x of POINTS[model.name]!) expectDerivatives(likelihoodOf(pool(lives), form), x, 2e-6)
  })

  it.each(FAILURE_MODELS)('$name: the likelihood without derivatives is the same one', model => {
    const form = model.form('years')
    for (const x of POINTS[model.name]!) {
      expect(logLikelihoodOf(pool(lives), form)(x)).toBeCloseTo(likelihoodOf(pool(lives), form)(x).value, 10)
    }
  })

  it.each(FAILURE_MODELS)('$name: constraints of B10, mean life and share failed agree with differences', model => {
    const form = model.form('years')
    const quantities: FitQuantity[] = [ageFailed(form, 0.1), meanLifeQuantity(form), shareFailedBy(form, 10)]
    for (const x of POINTS[model.name]!) {
      for (const quantity of quantities) {
        const target = quantity.at(x)
        expect(quantity.constraint(x, target).value).toBeCloseTo(0, 9)
        expectDerivatives(point => quantity.constraint(point, target), x, 2e-6)
        const step = 1e-5
        quantity.gradient(x).forEach((slope, a) => {
          const moved = (by: number) => quantity.at(x.map((value, i) => (i === a ? value + by : value)))
          expect(slope).toBeCloseTo((moved(step) - moved(-step)) / (2 * step), 6)
        })
      }
    }
  })

  it('a fixed figure is no coordinate', () => {
    const form: Form = { modes: [{ cause: 'a', shape: 2, life: null, share: 1 }] }
    expect(coordinatesOf(form)).toEqual([{ mode: 0, place: 1 }])
    expectDerivatives(likelihoodOf(pool(lives), form), [2.5], 2e-6)
    expect(logit(0.5)).toBe(0)
  })

  it('the cumulative hazard and hazard of plainMode are those with derivatives', () => {
    const mode = { logShape: 0.5, logLife: 2, logitShare: -1 }
    const terms = new ModeTerms()
    fillModeTerms(mode, 1.3, terms)
    expect(modeSum(plainMode(mode), 1.3)).toBeCloseTo(terms.sum, 14)
    expect(modeLogRate(plainMode(mode), 1.3)).toBeCloseTo(terms.logRate, 14)
  })
})
