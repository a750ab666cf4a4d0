import { describe, expect, test } from 'vitest'
import { cumulativeHazard, failureMode, type Mode } from '../../src/numerics/lives/competing-risks.ts'
import { NewUnitLife, seasonOf } from '../../src/numerics/lives/new-unit-life.ts'

const early = failureMode('early', 0.05, 0.7, 1)
const chance = failureMode('chance', 1, 1, 90)
const wear = failureMode('wear-out', 1, 3.2, 17)

const LIVES: readonly (readonly [name: string, modes: readonly Mode[], multiplier: number])[] = [
  ['one mode', [failureMode('a', 1, 2.2, 14)], 1],
  ['a mode that falls', [failureMode('a', 1, 0.7, 60)], 1.7],
  ['early, chance and wear-out', [early, chance, wear], 0.6],
  ['steep', [failureMode('a', 1, 12, 20)], 1],
  ['very steep', [failureMode('a', 1, 500, 8)], 1],
]

/** 1 − exp(−m·H) by definition. */
function chanceBy(modes: readonly Mode[], multiplier: number, years: number): number {
  return 1 - Math.exp(-multiplier * cumulativeHazard(modes, years))
}

/** ∫ cos 2πt dF and ∫ sin 2πt dF as a sum over thousands of short steps. */
function seasonByHand(failedBy: (years: number) => number, years: number): readonly [cosine: number, sine: number] {
  const steps = 60_000
  let [cosine, sine, before] = [0, 0, failedBy(0)]
  for (let i = 1; i <= steps; i++) {
    const then = failedBy((years * i) / steps)
    const turn = (2 * Math.PI * years * (i - 0.5)) / steps
    cosine += Math.cos(turn) * (then - before)
    sine += Math.sin(turn) * (then - before)
    before = then
  }
  return [cosine, sine]
}

describe('M1, M4: the life of a new unit from tables', () => {
  test.each(LIVES)('the chance to have failed, within 2e-9: %s', (_, modes, multiplier) => {
    const life = new NewUnitLife(modes, multiplier, 25)
    expect(life.failedBy(0)).toBe(0)
    for (let years = 0.003; years <= 25; years += 0.0371) {
      const off = life.failedBy(years) - chanceBy(modes, multiplier, years)
      expect(Math.abs(off), `${years} years`).toBeLessThan(2e-9)
    }
  })

  test.each(LIVES.slice(0, 4))('the same weighted with the season, within 1e-6: %s', (_, modes, multiplier) => {
    const life = new NewUnitLife(modes, multiplier, 25)
    const failedBy = (years: number): number => chanceBy(modes, multiplier, years)
    for (const years of [0.4, 3.21, 11, 24.99, 25]) {
      const found = { cosine: 0, sine: 0 }
      life.seasonBy(years, found)
      const [cosine, sine] = seasonByHand(failedBy, years)
      expect(Math.abs(found.cosine - cosine), `cosine, ${years} years`).toBeLessThan(1e-6)
      expect(Math.abs(found.sine - sine), `sine, ${years} years`).toBeLessThan(1e-6)
    }
    expect(life.holdsSeason).toBe(true)
  })

  test.each([
    [500, 8.003],
    [10_000, 8.003],
    [3, 0.05],
  ])(
    'seasons of a life too steep or too short for the table are said not to hold: shape %d, life %d years',
    (shape, lifeYears) => {
      const modes = [failureMode('a', 1, shape, lifeYears)]
      expect(new NewUnitLife(modes, 1, 25).holdsSeason).toBe(false)
      expect(seasonOf(years => chanceBy(modes, 1, years), 25)).toBeNull()
    },
  )

  test('seasons of any chance over whole years are those of the table', () => {
    const modes = [early, wear]
    const found = { cosine: 0, sine: 0 }
    new NewUnitLife(modes, 1, 20).seasonBy(20, found)
    const whole = seasonOf(years => chanceBy(modes, 1, years), 20)
    expect(Math.abs(found.cosine - (whole?.cosine ?? Number.NaN))).toBeLessThan(1e-7)
    expect(Math.abs(found.sine - (whole?.sine ?? Number.NaN))).toBeLessThan(1e-7)
  })
})
