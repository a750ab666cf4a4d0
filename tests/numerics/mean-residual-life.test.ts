import { describe, expect, test } from 'vitest'
import { cumulativeHazard, failureMode, type Mode } from '../../src/numerics/lives/competing-risks.ts'
import { ResidualLives } from '../../src/numerics/lives/mean-residual-life.ts'
import { expectClose } from './relative.ts'
import { meanResidualLife } from './weibull-life.ts'

/** ∫ S/S(age) to 100 years by the midpoint rule. */
function area(modes: readonly Mode[], age: number): number {
  const n = 40_000
  const reached = cumulativeHazard(modes, age)
  let sum = 0
  for (let i = 0; i < n; i++) {
    sum += Math.exp(reached - cumulativeHazard(modes, age + ((i + 0.5) / n) * (100 - age)))
  }
  return (sum * (100 - age)) / n
}

describe('C6: mean residual life, lives followed to 100 years', () => {
  test.each([0.8, 1, 2.2, 3.5])('one mode of shape %d: the Weibull mean residual life', shape => {
    const mode = failureMode('wear-out', 1, shape, 4)
    const lives = new ResidualLives([mode])
    for (const age of [0, 2, 6]) expectClose(lives.at(age), meanResidualLife(age, mode), 1e-4)
  })

  test.each([
    [
      'evidence',
      [failureMode('early', 0.02, 0.7, 1), failureMode('chance', 1, 1, 77), failureMode('wear', 1, 3.5, 23.6)],
    ],
    ['half susceptible', [failureMode('defect', 0.5, 2, 5), failureMode('wear', 1, 6, 30)]],
    ['nobody need fail', [failureMode('defect', 0.4, 1.5, 12)]],
    ['steep', [failureMode('wear', 1, 40, 20), failureMode('chance', 1, 1, 50)]],
  ])('%s: the area under the survival', (_, modes) => {
    const lives = new ResidualLives(modes)
    for (const age of [0, 3, 11, 19]) expectClose(lives.at(age), area(modes, age), 1e-3, `age ${age}`)
  })

  test('a steep life beyond 100 years: all of the time left is lived', () => {
    expect(new ResidualLives([failureMode('wear', 1, 10_000, 1000)]).at(30)).toBe(70)
  })

  test('the ends: nothing after 100 years, all of it where nothing can fail', () => {
    const lives = new ResidualLives([failureMode('wear', 1, 3, 20)])
    expect(lives.at(100)).toBe(0)
    expect(new ResidualLives([failureMode('wear', 1, 3, 20)], 0b1).at(30)).toBe(70)
  })

  test('a fixed life leaves what is not used up; it used to leave all of it, since 0.5^10000 is no number', () => {
    const lives = new ResidualLives([failureMode('wear', 1, 10_000, 8)])
    for (const age of [0.001, 1, 4, 7]) expectClose(lives.at(age), 8 - age, 1e-3, `age ${age}`)
  })
})
