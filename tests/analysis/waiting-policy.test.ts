import { describe, expect, test } from 'vitest'
import { waitingPolicy } from '../../src/analysis/policies/waiting-policy.ts'
import { prepare } from '../../src/simulation/run.ts'
import { type Block, failsAt, option, read, single, unit, world } from '../worlds.ts'

/** Six panel-level units of a sixth of the roof each: two fail at 4, four half a year later. Parts leave no residual value. */
function six(pricePerKwh: number): Block {
  const units = (count: number, ageYears: number) =>
    unit('panel-level-unit', { count, failure: failsAt(ageYears), replacement: { parts: 0.001 } })
  return world([option('P', 'panel-level', [units(4, 4.5), units(2, 4)])], {
    horizon_years: 6,
    site: { energy_value: { export_price_per_kwh: pricePerKwh } },
  })
}
const found = (blocks: Block) => {
  const result = waitingPolicy(prepare(read(blocks), 1), 0, 40, 40)
  if (result === null) throw new Error('no waiting policy')
  return result
}

/** A visit to some units: call-out 100, labour 200 and 50 for each further unit. */
const visit = (units: number) => 100 + 200 + 50 * (units - 1)
/** Energy lost by some units waiting, 1 kWh a day for the whole roof. */
const lost = (units: number, days: number) => (units / 6) * days
const HALF_A_YEAR = 182.5

/** By policy: visits, and kWh lost while waiting. All by hand. */
const BY_HAND = [
  { units: 1, days: 90, visits: 6 * visit(1), kwh: 0 },
  { units: 1, days: 365, visits: 6 * visit(1), kwh: 0 },
  { units: 2, days: 90, visits: 3 * visit(2), kwh: 0 },
  { units: 2, days: 365, visits: 3 * visit(2), kwh: 0 },
  // the pair has waited long enough; three of the four; the fourth waits alone
  { units: 3, days: 90, visits: visit(2) + visit(3) + visit(1), kwh: lost(2, 90) + lost(1, 90) },
  { units: 3, days: 365, visits: visit(3) + visit(3), kwh: lost(2, HALF_A_YEAR) },
  { units: 4, days: 90, visits: visit(2) + visit(4), kwh: lost(2, 90) },
  // the pair and two of the four; the other two wait a year
  { units: 4, days: 365, visits: visit(4) + visit(2), kwh: lost(2, HALF_A_YEAR) + lost(2, 365) },
]

describe('O3: repair now or wait', () => {
  test.each([
    [0.2, 4, 90],
    [10, 2, 90],
  ])(
    'O3: with energy at %d the costs of every policy and the best one are those worked out by hand',
    (price, units, days) => {
      const { waitForUnits, waitAtMostDays, cost, best, saves } = found(six(price))
      expect([waitForUnits, waitAtMostDays]).toEqual([
        [1, 2, 3, 4],
        [90, 365],
      ])
      // lives of shape 10,000 scatter by hours: under half a day of the whole roof
      const scatter = 0.01 + 0.5 * price
      for (const { units: wait, days: most, visits, kwh } of BY_HAND) {
        const simulated = cost[wait - 1]?.[waitAtMostDays.indexOf(most)] ?? Number.NaN
        expect(Math.abs(simulated - (5000 + visits + price * kwh))).toBeLessThan(scatter)
      }
      expect(best).toEqual({ waitForUnits: units, waitAtMostDays: days })
      // without a policy each failure has a visit of its own
      const least = BY_HAND.find(policy => policy.units === units && policy.days === days)
      const saved = 6 * visit(1) - (least?.visits ?? 0) - price * (least?.kwh ?? 0)
      expect(Math.abs(saves - saved)).toBeLessThan(scatter)
    },
  )

  test('O3: the saving is against the policy in the scenario, which is named; a loss is negative', () => {
    const waits = { waitForUnits: 6, waitAtMostDays: 1 }
    const stated = six(0.2) as { readonly options: readonly Block[] }
    const blocks = {
      ...stated,
      options: stated.options.map(one => ({ ...one, visit_policy: { wait_for_units: 6, wait_at_most_days: 1 } })),
    }
    const { against, saves, draws } = found(blocks)
    expect([against, draws]).toEqual([waits, 40])
    expect(found(six(0.2)).against).toBeNull()
    expect(saves).not.toBeCloseTo(found(six(0.2)).saves, 0)
  })

  test('O3: what one failed unit costs a year: a sixth of the roof', () => {
    const { oneUnitYear } = found(six(0.2))
    expect(oneUnitYear.kwh).toBeCloseTo(365 / 6, 9)
    expect(oneUnitYear.value).toBeCloseTo(0.2 * (365 / 6), 9)
  })

  test('O3: an option without several units to visit has no policy', () => {
    const none = (blocks: Block) => expect(waitingPolicy(prepare(read(world([blocks])), 1), 0, 20, 20)).toBeNull()
    none(single())
    none(option('P', 'panel-level', [unit('panel-level-unit', { count: 1 })]))
    none(option('P', 'panel-level', [unit('panel-level-unit', { count: 4, needs_visit: false })]))
  })
})
