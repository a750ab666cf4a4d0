import { describe, expect, test } from 'vitest'
import { type AgeReplacementSlot, expectedReplacements } from '../../src/numerics/renewal/age-replacement.ts'
import { expectedFailures } from '../../src/numerics/renewal/renewal.ts'
import reference from '../reference/replacement-policy.json' with { type: 'json' }
import { weibullCdf } from './reference-lives.ts'
import { expectClose } from './relative.ts'

const AT_ONCE = { nodesYears: Float64Array.of(0), weights: Float64Array.of(1) }
const OFTEN_DOWN = { nodesYears: Float64Array.of(0.05, 0.4), weights: Float64Array.of(0.5, 0.5) }

/** A slot of Weibull units, the first one of a given age. */
function slotOf(shape: number, lifeYears: number, firstAgeYears: number, replaceAtYears: number): AgeReplacementSlot {
  const hazard = (age: number) => (age / lifeYears) ** shape
  const first = (t: number) => -Math.expm1(hazard(firstAgeYears) - hazard(firstAgeYears + t))
  const renewed = weibullCdf(shape, lifeYears)
  return { horizonYears: 25, first, renewed, downtime: AT_ONCE, replaceAtYears, firstAgeYears, plannedDownYears: 0 }
}

describe('M6, X1: planned replacement by age', () => {
  test('units that never fail are replaced exactly at the age, the first one at once where it is older', () => {
    const slot = { ...slotOf(2, 1e9, 0, 8), firstAgeYears: 9, plannedDownYears: 0.5 }
    const counts = expectedReplacements(slot) // at 0, 8.5, 17 and due again at 25.5
    expectClose(counts.planned, 3, 1e-12)
    expect(counts.failures).toBeLessThan(1e-12)
  })

  test('an age past the horizon plans nothing', () => {
    const slot = { ...slotOf(2.2, 14, 0, 30), downtime: OFTEN_DOWN }
    const counts = expectedReplacements(slot)
    expect(counts.planned).toBe(0)
    expectClose(counts.failures, expectedFailures({ ...slot, stepsPerYear: 12 }).byHorizon, 1e-12)
  })

  test('without wear it saves no failure: they come at their constant rate', () => {
    const slot = slotOf(1, 12, 3, 7)
    expectClose(expectedReplacements(slot).failures, 25 / 12, 1e-5)
  })

  test.each([
    [2.2, 14, 4, 10],
    [0.7, 20, 0, 8],
    [3, 14, 13, 12],
    [5, 10, 2, 9],
  ])('shape %d, life %d, first aged %d, replaced at %d: agrees with 200,000 played slots (|z| under 4.5)', (...row) => {
    const [shape, lifeYears, firstAge, replaceAt] = row
    const slot = { ...slotOf(shape, lifeYears, firstAge, replaceAt), downtime: OFTEN_DOWN, plannedDownYears: 0.1 }
    const played = playedCounts(slot, shape, lifeYears, 200_000)
    const exact = expectedReplacements(slot)
    expect(Math.abs(exact.failures - played.failures.mean) / played.failures.error).toBeLessThan(4.5)
    expect(Math.abs(exact.planned - played.planned.mean) / played.planned.error).toBeLessThan(4.5)
  })

  test.each(reference.age_replacement)(
    'shape $shape, replaced at the best age: in the long run the cost a year of the reference (COMPUTED: quadrature)',
    row => {
      const life = row.scale
      const slot = slotOf(row.shape, 1, 0, row.optimal_age / life)
      const costBy = (lives: number) => {
        const counts = expectedReplacements({ ...slot, horizonYears: lives })
        return row.failure_cost * counts.failures + row.planned_cost * counts.planned
      }
      // Between the middles of two planned intervals, so that no planned date lies on a bound.
      const age = row.optimal_age / life
      const rate = (costBy(80.5 * age) - costBy(40.5 * age)) / (40 * age)
      expectClose(rate / life, row.min_cost_rate, 1e-3)
    },
  )

  test('an age of nothing is refused', () => {
    expect(() => expectedReplacements(slotOf(2, 10, 0, 0))).toThrow(
      'expectedReplacements: horizon and age must be > 0, got 25, 0',
    )
  })
})

/** Plays slots with a fixed sequence of random numbers. */
function playedCounts(slot: AgeReplacementSlot, shape: number, lifeYears: number, n: number) {
  const uniform = uniforms(20_270_301)
  const failures = new Float64Array(n)
  const planned = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    let age = slot.firstAgeYears
    for (let t = 0; t <= slot.horizonYears; age = 0) {
      const failsAt = lifeYears * ((age / lifeYears) ** shape - Math.log1p(-uniform())) ** (1 / shape)
      const dueAt = Math.max(age, slot.replaceAtYears)
      t += Math.min(failsAt, dueAt) - age
      if (t > slot.horizonYears) break
      const counts = failsAt < dueAt ? failures : planned
      counts[i] = (counts[i] ?? 0) + 1
      const down =
        uniform() < (slot.downtime.weights[0] ?? 1) ? slot.downtime.nodesYears[0] : slot.downtime.nodesYears[1]
      t += failsAt < dueAt ? (down ?? 0) : slot.plannedDownYears
    }
  }
  return { failures: summary(failures), planned: summary(planned) }
}

function summary(values: Float64Array) {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
  return { mean, error: Math.sqrt(squares) / values.length }
}

/** A small generator of its own (Park and Miller 1988, multiplier 48271), so that the test needs nothing of ours. */
function uniforms(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 48_271) % 2_147_483_647
    return state / 2_147_483_647
  }
}
