import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Block, first, option, play, unit, world } from '../worlds.ts'

const RUNS = { numRuns: 12, seed: 20270301 }
const share = fc.double({ min: 0, max: 1, noNaN: true })
const between = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true })

/** Any option with an inverter or panels, delays, cover, and terms. */
const anyOption = fc
  .record({
    panels: fc.boolean(),
    shape: between(0.6, 6),
    life: between(2, 25),
    age: between(0, 12),
    count: fc.integer({ min: 1, max: 12 }),
    respond: between(0, 200),
    claim: between(0, 40),
    years: between(0, 25),
    labourYears: between(0, 10),
    success: share,
    cover: fc.constantFrom('remaining', 'renewed', 'new-if-bought'),
    growth: between(-0.04, 0.04),
    repair: fc.boolean(),
    wait: fc.boolean(),
    losses: between(0, 0.1),
    exit: between(0, 0.2),
  })
  .map((a): Block => {
    const kind = a.panels ? 'panel-level-unit' : 'string-inverter'
    const one = unit(kind, {
      count: a.count,
      age_years: a.age,
      failure: { shape: a.shape, characteristic_life_years: a.life, model_spread: 0.3 },
      downtime: { respond_days: a.respond, claim_days: a.claim },
      replacement: { parts_growth: a.growth },
      warranty: { years: a.years, labour_years: a.labourYears, claim_success: a.success, replacement_cover: a.cover },
      ...(a.repair ? { restore: { repair: { renews: 0.5, parts: 200, labour: 90, at_most: 2 } } } : {}),
    })
    return option('Any', a.panels ? 'panel-level' : 'string', [one], {
      yearly_cost: 12,
      design_losses: { mismatch_and_shade: a.losses, clipping: a.losses / 2 },
      warranty_provider: { exit_rate_per_year: a.exit },
      ...(a.wait ? { visit_policy: { wait_for_units: 2, wait_at_most_days: 200 } } : {}),
    })
  })

describe('whatever the option', () => {
  test('C7: totals are the sum of their parts; ideal energy is delivered and lost; shares stay within 0 and 1', async () => {
    await fc.assert(
      fc.asyncProperty(
        anyOption,
        between(-0.02, 0.1),
        fc.constantFrom('none', 'straight-line'),
        async (any, rate, residual) => {
          const results = await play(world([any], { discount_rate: rate, residual_value: residual }), { draws: 60 })
          const one = first(results.options)
          const sum = Object.values(one.costs).reduce((total, line) => total + line, 0)
          expect(Math.abs(sum / one.lifetimeCost.mean - 1)).toBeLessThan(1e-9)
          const { energy } = one
          const lost = Object.values(energy.designLossKwh).reduce(
            (total, kwh) => total + kwh,
            energy.outageLossKwh.mean,
          )
          expect(Math.abs((energy.deliveredKwh + lost) / energy.idealKwh - 1)).toBeLessThan(1e-9)
          expect(energy.outageLossKwh.mean).toBeGreaterThanOrEqual(0)
          for (const value of [
            one.availability.timeBased,
            one.availability.energyWeighted ?? 0,
            ...one.failures.atLeastOneByYear,
          ]) {
            expect(value).toBeGreaterThanOrEqual(0)
            expect(value).toBeLessThanOrEqual(1 + 1e-12)
          }
          for (const value of [...one.coverByYear.paper, ...one.coverByYear.effective]) {
            if (value === null) continue
            expect(value).toBeGreaterThanOrEqual(-1e-12)
            expect(value).toBeLessThanOrEqual(1 + 1e-12)
          }
          expect(one.failuresByYear.reduce((total, count) => total + count, 0)).toBeCloseTo(one.failures.mean, 8)
          const { none, one: single, twoOrMore } = one.visitShares
          expect(none + single + twoOrMore).toBeCloseTo(1, 12)
          const cash = one.cashByYear.mean.reduce((total, amount) => total + amount, 0)
          if (rate === 0) expect(cash).toBeCloseTo(one.outOfPocket.mean, 6)
          expect(JSON.stringify(results)).not.toMatch(/NaN|Infinity/)
        },
      ),
      RUNS,
    )
  })

  test('V1, W3: more cover never costs the owner more out of pocket, under remaining and renewed', async () => {
    await fc.assert(
      fc.asyncProperty(anyOption, fc.constantFrom('remaining', 'renewed'), async (any, cover) => {
        const [component] = any.components as Block[]
        const covered = { ...component, warranty: { ...(component?.warranty as Block), replacement_cover: cover } }
        const results = await play(world([{ ...any, components: [covered] }]), { draws: 60 })
        const { outOfPocketMean } = first(results.warrantySweep)
        outOfPocketMean.slice(1).forEach((paid, i) => {
          expect(paid).toBeLessThanOrEqual((outOfPocketMean[i] ?? 0) + 1e-7)
        })
      }),
      RUNS,
    )
  })

  test('C5: energy at a zero price is a zero line; prices of energy change no other line', async () => {
    await fc.assert(
      fc.asyncProperty(anyOption, between(0.05, 1), async (any, price) => {
        const free = first(
          (
            await play(world([any], { site: { energy_value: { export_price_per_kwh: 0, import_price_per_kwh: 0 } } }), {
              draws: 40,
            })
          ).options,
        )
        const priced = first(
          (await play(world([any], { site: { energy_value: { export_price_per_kwh: price } } }), { draws: 40 }))
            .options,
        )
        expect([free.costs.outageEnergy, free.costs.designEnergy]).toEqual([0, 0])
        for (const line of ['parts', 'labour', 'visits', 'yearly', 'upfront'] as const)
          expect(priced.costs[line]).toBe(free.costs[line])
        expect(priced.failures).toEqual(free.failures)
      }),
      RUNS,
    )
  })
})
