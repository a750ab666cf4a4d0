import { describe, expect, test } from 'vitest'
import { withPopulation } from '../../src/analysis/changed-scenario.ts'
import { pairedMean } from '../../src/analysis/comparison/comparison.ts'
import { replacementAge } from '../../src/analysis/policies/replacement-age.ts'
import { expectedReplacements } from '../../src/numerics/renewal/age-replacement.ts'
import { firstCosts } from '../../src/simulation/lifetime-costs.ts'
import { prepare, withScenario } from '../../src/simulation/run.ts'
import reference from '../reference/replacement-policy.json' with { type: 'json' }
import { type Block, failsAt, option, put, read, single, unit, weibull, world } from '../worlds.ts'

const DRAWS = 1000
/** A planned swap costs 300; a failure as much more as three days of lost energy are worth. Parts that cost next to nothing leave no residual value. */
function policyWorld(failure: Block, lostWorth: number, horizon_years: number): Block {
  const priced = { replacement: { parts: 0.001, labour: 200 }, downtime: { respond_days: 3 } }
  return world([single({ failure, ...priced }, { upfront_cost: 0 })], {
    horizon_years,
    site: { energy_value: { export_price_per_kwh: lostWorth / 3 } },
  })
}
const found = (blocks: Block, draws = DRAWS, seed = 1) => {
  const result = replacementAge(prepare(read(blocks), seed), 0, draws, draws)
  if (result === null) throw new Error('no replacement age')
  return result
}
/** Expected cost over the horizon by the renewal equation. */
function exactCost(
  shape: number,
  life: number,
  age: number,
  horizonYears: number,
  planned: number,
  failed: number,
): number {
  const share = (years: number) => -Math.expm1(-((years / life) ** shape))
  const counts = expectedReplacements({
    horizonYears,
    first: share,
    renewed: share,
    downtime: { nodesYears: Float64Array.of(3 / 365), weights: Float64Array.of(1) },
    replaceAtYears: age,
    firstAgeYears: 0,
    plannedDownYears: 0,
  })
  return counts.planned * planned + counts.failures * failed
}

// the case of the reference whose amounts are those of a roof
const [, , , CASE] = reference.age_replacement
if (CASE === undefined) throw new Error('the reference has no fourth case')
const { shape, scale: life, planned_cost: planned, failure_cost: failed } = CASE

describe('M6: planned replacement', () => {
  test('M6: cost at each age is that of the renewal equation, and the best age that of the age-replacement formula', () => {
    const years = 60
    const blocks = policyWorld(weibull(shape, life), failed - planned, years)
    const { ages, cost, runToFailureCost, best, gain, standardError } = found(blocks)
    const prepared = prepare(read(blocks), 1)
    ages.forEach((age, i) => {
      const changed = withScenario(
        prepared,
        withPopulation(prepared.scenario, 0, 0, one => ({ ...one, replaceAtAgeYears: age })),
      )
      const simulated = pairedMean(firstCosts(changed, 0, DRAWS), DRAWS)
      expect(cost[i]).toBeCloseTo(simulated.mean, 0)
      // about twenty ages, z under 4.5: one false alarm in several thousand
      const exact = exactCost(shape, life, age, years, planned, failed)
      expect(Math.abs((cost[i] ?? 0) - exact)).toBeLessThan(4.5 * simulated.standardError + 0.5)
    })
    // whole years about 5.92
    expect(Math.abs((best ?? 0) - CASE.optimal_age)).toBeLessThan(1.1)
    // what is gained over 60 years, by the renewal equation; its growth in the limit is the next test
    const exactGain =
      exactCost(shape, life, years, years, planned, failed) - exactCost(shape, life, best ?? 0, years, planned, failed)
    expect(Math.abs(gain - exactGain)).toBeLessThan(4.5 * standardError + 0.5)
    expect(gain).toBeCloseTo(runToFailureCost - (cost[ages.indexOf(best ?? 0)] ?? 0), 6)
  })

  test('M6: the growth of the exact cost is the rate of the formula at its optimum (COMPUTED)', () => {
    const at = (years: number) => exactCost(shape, life, CASE.optimal_age, years, planned, failed)
    // the first cycles count for long: few units fail before they are swapped
    expect((at(400) - at(200)) / 200 / CASE.min_cost_rate).toBeCloseTo(1, 3)
  })

  test('M6: without wear, run to failure is cheaper: no best age, no gain', () => {
    const { ages, cost, runToFailureCost, best, gain } = found(policyWorld(weibull(1, 12), 1200, 30))
    expect([best, gain]).toEqual([null, 0])
    ages.forEach((_, i) => {
      expect(cost[i]).toBeGreaterThan(runToFailureCost)
    })
  })

  test('M6: units that all fail at ten are best replaced at nine, by hand', () => {
    // 23 years: failures at 10 and 20 for 300 + 1200 each; swaps at 9 and 18 for 300 each
    const blocks = policyWorld(failsAt(10), 1200, 23)
    const { ages, cost, runToFailureCost, best, gain, component } = found(blocks, 40)
    expect(component).toBe('string-inverter')
    expect(runToFailureCost).toBeCloseTo(3000, 1)
    const costAt = (age: number) => cost[ages.indexOf(age)] ?? Number.NaN
    expect(costAt(4)).toBeCloseTo(5 * 300, 1)
    expect(costAt(7)).toBeCloseTo(3 * 300, 1)
    expect(costAt(8)).toBeCloseTo(2 * 300, 1)
    expect(costAt(13)).toBeCloseTo(3000, 1)
    expect(costAt(best ?? 0)).toBeCloseTo(600, 1)
    expect(gain).toBeCloseTo(2400, 1)
  })

  test('C6: policies are compared with straight-line residual value on', () => {
    // 19 years, every unit fails at ten: swapped at 7 and 14 the last one is half used up
    const blocks = put(policyWorld(failsAt(10), 1200, 19), {
      options: [
        single(
          { failure: failsAt(10), replacement: { parts: 100, labour: 100 }, downtime: { respond_days: 3 } },
          { upfront_cost: 0 },
        ),
      ],
    })
    const { ages, cost, runToFailureCost } = found(blocks, 40)
    // run to failure: one failure at 10; the unit is 9 years less a day old at 19
    expect(runToFailureCost).toBeCloseTo(1500 - 100 * 0.1, 0)
    expect(cost[ages.indexOf(7)]).toBeCloseTo(600 - 100 * 0.5, 0)
  })

  test('M6: an option without a string-type inverter has no such figures', () => {
    const panels = option('P', 'panel-level', [unit('panel-level-unit', { count: 10 })])
    expect(replacementAge(prepare(read(world([panels])), 1), 0, 20, 20)).toBeNull()
  })
})
