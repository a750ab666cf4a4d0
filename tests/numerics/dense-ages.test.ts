import { describe, expect, test } from 'vitest'
import { ageAtHazard, failureMode } from '../../src/numerics/lives/competing-risks.ts'
import { DenseAges } from '../../src/numerics/lives/dense-ages.ts'

const wearOut = failureMode('wear-out', 1, 3.5, 17)
const early = failureMode('early', 0.03, 0.7, 1)
const chance = failureMode('chance', 1, 1, 90)

describe('M1: dense tables of ages', () => {
  test.each([
    ['three modes', [early, chance, wearOut]],
    ['one mode', [wearOut]],
    ['steep', [chance, failureMode('wear-out', 1, 12, 15)]],
    ['so steep that ages are solved for', [chance, failureMode('wear-out', 1, 4000, 15)]],
  ])('the age at a hazard, within 1e-9: %s', (_, modes) => {
    const ages = new DenseAges(modes, 40)
    for (let i = 0; i < 3000; i++) {
      const level = Math.exp(-11 + (13.5 * i) / 3000)
      expect(Math.abs(ages.at(level) / ageAtHazard(modes, level) - 1)).toBeLessThan(1e-9)
    }
  })

  test('results do not depend on earlier calls', () => {
    const asked = new DenseAges([early, wearOut], 40)
    for (let i = 1; i < 500; i++) asked.at(i / 100)
    expect(asked.at(0.4321)).toBe(new DenseAges([early, wearOut], 40).at(0.4321))
  })
})
