import { describe, expect, test } from 'vitest'
import { failureMode, type Mode } from '../../src/numerics/lives/competing-risks.ts'
import { DenseResidual } from '../../src/numerics/lives/dense-residual.ts'
import { ResidualLives } from '../../src/numerics/lives/mean-residual-life.ts'

/** ∫ S from an age to 100 over S, by a Simpson rule fine enough to be the reference. */
function byHand(modes: readonly Mode[], age: number): number {
  const survival = (t: number): number =>
    modes.reduce(
      (alive, { susceptible, shape, lifeYears }) =>
        alive * (1 - susceptible + susceptible * Math.exp(-((t / lifeYears) ** shape))),
      1,
    )
  const n = 40_000
  const step = (100 - age) / n
  let sum = survival(age) + survival(100)
  for (let i = 1; i < n; i++) sum += (i % 2 === 0 ? 2 : 4) * survival(age + i * step)
  return (sum * step) / 3 / survival(age)
}

const early = failureMode('early', 0.05, 0.7, 1)
const chance = failureMode('chance', 1, 1, 90)
const wear = failureMode('wear-out', 1, 3.2, 17)

describe('C6: mean residual lives from a table, within 5e-8', () => {
  test.each([
    ['one mode', [failureMode('a', 1, 2.2, 14)]],
    ['a mode that falls', [failureMode('a', 1, 0.7, 60)]],
    ['early, chance and wear-out', [early, chance, wear]],
    ['two modes', [failureMode('a', 1, 0.7, 400), failureMode('b', 1, 3.5, 38)]],
    ['steep', [failureMode('a', 1, 12, 30)]],
  ] as const)('%s', (_, modes) => {
    const table = new DenseResidual(modes, 40)
    for (const age of [2.01, 5.55, 9.999, 17.3, 24.96, 31.7, 39.9]) {
      if (modes.some(mode => (age / mode.lifeYears) ** mode.shape > 15)) continue // hardly anything lives so long
      const exact = byHand(modes, age)
      expect(Math.abs(table.at(age) / exact - 1), `age ${age}`).toBeLessThan(5e-8)
    }
  })

  test('very steep lives are not tabulated', () => {
    const modes = [failureMode('a', 1, 500, 8)]
    const [table, lives] = [new DenseResidual(modes, 40), new ResidualLives(modes)]
    for (const age of [0.5, 4, 7.9]) expect(table.at(age)).toBe(lives.at(age))
  })

  test('young and very old units use the closed form or the integral', () => {
    const modes = [failureMode('a', 1, 2.2, 14)]
    const [table, lives] = [new DenseResidual(modes, 40), new ResidualLives(modes)]
    for (const age of [0, 0.01, 0.1, 45, 99, 120]) expect(table.at(age)).toBe(lives.at(age))
  })
})
