import { describe, expect, test } from 'vitest'
import { cumulativeHazard, failureMode } from '../../src/numerics/lives/competing-risks.ts'
import { DenseHazard } from '../../src/numerics/lives/dense-hazard.ts'

const early = failureMode('early', 0.05, 0.7, 1)
const chance = failureMode('chance', 1, 1, 90)
const wear = failureMode('wear-out', 1, 3.2, 17)

describe('M1: cumulative hazards from a table, within 2e-9', () => {
  test.each([
    ['one mode', [failureMode('a', 1, 2.2, 14)]],
    ['a mode that falls', [failureMode('a', 1, 0.7, 60)]],
    ['early, chance and wear-out', [early, chance, wear]],
    ['steep', [failureMode('a', 1, 12, 30)]],
    ['very steep', [failureMode('a', 1, 500, 8)]],
  ] as const)('%s', (_, modes) => {
    const table = new DenseHazard(modes, 40)
    for (let age = 0.003; age < 39.99; age += 0.0371) {
      const exact = cumulativeHazard(modes, age)
      expect(Math.abs(table.at(age) - exact), `age ${age}`).toBeLessThanOrEqual(2e-9 * Math.max(exact, 1))
    }
  })

  test('age 0, the first eighth of a year and ages beyond the table are exact', () => {
    const modes = [early, wear]
    const table = new DenseHazard(modes, 40)
    expect(table.at(0)).toBe(0)
    for (const age of [0.01, 0.124, 40, 41.3, 90]) expect(table.at(age)).toBe(cumulativeHazard(modes, age))
  })
})
