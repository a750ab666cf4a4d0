import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { optionResult } from '../../src/analysis/option/option-result.ts'
import { OptionRun } from '../../src/analysis/option/option-run.ts'
import { ParameterSets } from '../../src/simulation/parameter-sets.ts'
import { layoutOf } from '../../src/simulation/play-draws.ts'
import { BlockPlayer, blockTasks, planOf, prepare } from '../../src/simulation/run.ts'
import { mergeBlocks } from '../simulation/merged.ts'
import { type Block, option, put, read, unit, weibull, world } from '../worlds.ts'

const amount = (max: number) => fc.double({ min: 0, max, noNaN: true })

/** An option with failures, outages, covers, losses and a life of its own. */
const anyOption = fc
  .record({
    shape: fc.double({ min: 0.6, max: 6, noNaN: true }),
    lifeYears: fc.double({ min: 2, max: 40, noNaN: true }),
    parts: amount(3000),
    labour: amount(800),
    respond: amount(200),
    years: fc.nat(12),
    age: fc.integer({ min: 0, max: 9 }),
    yearly: amount(90),
    clipping: amount(0.1),
    shade: amount(0.1),
    conversion: amount(0.05),
    panels: fc.boolean(),
    ranged: fc.boolean(),
  })
  .map((drawn): Block => {
    const { shape, lifeYears, labour, respond, years, age, yearly, clipping, shade, conversion, panels, ranged } = drawn
    const parts = ranged ? { low: drawn.parts + 1, high: 3 * drawn.parts + 2 } : drawn.parts
    const failing = {
      failure: weibull(shape, lifeYears),
      age_years: age,
      downtime: { respond_days: respond },
      replacement: { parts, labour },
      warranty: { years, labour_years: Math.floor(years / 2), claim_success: 0.8 },
    }
    const components = panels
      ? [unit('panel-level-unit', { ...failing, count: 8 }), unit('gateway', { failure: weibull(2, 5) })]
      : [unit('string-inverter', failing)]
    return option('X', panels ? 'panel-level' : 'string', components, {
      yearly_cost: yearly,
      design_losses: { clipping, mismatch_and_shade: shade, conversion },
      warranty_provider: { exit_rate_per_year: 0.05 },
    })
  })
const anyWorld = fc.record({
  discount_rate: fc.double({ min: -0.02, max: 0.1, noNaN: true }),
  residual_value: fc.constantFrom('none', 'straight-line'),
  start: fc.constantFrom('2027-01', '2027-03', '2027-11'),
  degradation: amount(0.02),
  self_consumed: fc.double({ min: 0.01, max: 0.99, noNaN: true }),
})

function resultOf(one: Block, over: Block, draws = 60) {
  const scenario = read(world([one], over))
  const prepared = prepare(scenario, 1)
  const sets = new ParameterSets(scenario, 1, 'random')
  const player = new BlockPlayer([prepared])
  const merged = mergeBlocks(
    blockTasks(0, draws, false).map(task => player.play(task)),
    !sets.vary,
  )
  const plan = planOf(prepared, 0)
  return {
    result: optionResult(plan, new OptionRun(merged, layoutOf(plan, false), !sets.vary), sets.drawsPerSet(draws), []),
    merged,
  }
}
const sum = (values: Iterable<number>) => [...values].reduce((total, value) => total + value, 0)

describe('C7, O5: what must add up, for any option', () => {
  test('C7: the lines of cost make lifetimeCost.mean; acquisition and ownership too; energy is delivered or lost, exactly', () => {
    fc.assert(
      fc.property(anyOption, anyWorld, (one, { degradation, self_consumed, ...over }) => {
        const site = { generation: { degradation }, energy_value: { self_consumed, import_price_per_kwh: 1.7 } }
        const { result, merged } = resultOf(one, { ...over, site })
        const { lifetimeCost, costs, totals, energy, cashByYear, cumulativeCash, failures, failuresByYear } = result
        const near = (value: number, expected: number) =>
          expect(Math.abs(value - expected)).toBeLessThan(1e-9 * (1 + Math.abs(expected)))
        near(sum(Object.values(costs)), lifetimeCost.mean)
        near(sum(merged.lifetimeCost) / merged.draws, lifetimeCost.mean)
        near(totals.acquisition + totals.ownership, lifetimeCost.mean)
        near(
          totals.withoutLostEnergy +
            costs.outageEnergy +
            costs.designEnergy +
            costs.batteryOutage +
            costs.batteryEarnings,
          lifetimeCost.mean,
        )
        near(
          energy.deliveredKwh + energy.outageLossKwh.mean + sum(Object.values(energy.designLossKwh)),
          energy.idealKwh,
        )
        near(sum(energy.deliveredByMonthKwh), energy.deliveredKwh)
        near(sum(energy.idealByMonthKwh), energy.idealKwh)
        near(sum(failuresByYear), failures.mean)
        // R1: undiscounted cash by year against the payments themselves
        near(
          sum(cashByYear.mean),
          sum(merged.payments.flatMap(({ amount }) => [...amount])) / merged.draws + 20 * (merged.yearlyCost[0] ?? 0),
        )
        const { p50, p80, p90, p95 } = cumulativeCash
        p50.forEach((median, year) => {
          const rising = [median, p80[year] ?? 0, p90[year] ?? 0, p95[year] ?? 0]
          expect([...rising].sort((a, b) => a - b)).toEqual(rising)
          expect(median).toBeGreaterThanOrEqual(p50[year - 1] ?? 0)
        })
        const { p5, p10, p50: middle, p90: high, p95: top, worstTenthMean } = lifetimeCost
        const spread = [p5, p10, middle, high, top]
        expect([...spread].sort((a, b) => a - b)).toEqual(spread)
        expect(worstTenthMean).toBeGreaterThanOrEqual(high - 1e-9 * Math.abs(high))
      }),
      { seed: 1, numRuns: 40 },
    )
  })

  test('C5: dearer energy costs every option in proportion to what it loses, so it never favours the option that loses more', () => {
    fc.assert(
      fc.property(anyOption, anyOption, amount(2), amount(2), (one, other, a, b) => {
        const [cheap, dear] = [Math.min(a, b), Math.max(a, b)]
        const at = (block: Block, price: number) =>
          resultOf(block, put({}, { site: { energy_value: { export_price_per_kwh: price } } }), 40).result
        const rise = (block: Block) => at(block, dear).lifetimeCost.mean - at(block, cheap).lifetimeCost.mean
        const lostKwh = (block: Block) => {
          const { energy } = at(block, dear)
          return energy.idealKwh - energy.deliveredKwh
        }
        // everything is exported at one price, nothing is discounted
        for (const block of [one, other]) {
          expect(rise(block)).toBeCloseTo((dear - cheap) * lostKwh(block), 5)
        }
        if (lostKwh(one) > lostKwh(other) + 1e-6) expect(rise(one)).toBeGreaterThanOrEqual(rise(other) - 1e-6)
      }),
      { seed: 2, numRuns: 15 },
    )
  })
})
