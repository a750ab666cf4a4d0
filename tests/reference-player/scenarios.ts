/** Random scenarios that combine all rules of chance and cover, to compare the program with the reference. */
import fc from 'fast-check'
import { type Block, option, unit, weibull, world } from '../worlds.ts'

const shares = fc.constantFrom(0, 0.3, 0.7, 1)
const spread = (low: number, high: number) =>
  fc
    .record({
      median: fc.double({ min: low, max: high, noNaN: true }),
      p90: fc.double({ min: 3, max: 4, noNaN: true }),
    })
    .map(({ median, p90 }) => ({ median, p90: median * p90 }))

const downtime = fc.record({
  detect_days: spread(2, 30),
  detect_days_unmonitored: spread(40, 200),
  respond_days: spread(5, 60),
  repair_days: fc.oneof(fc.constantFrom(0, 0.3), spread(0.1, 2)),
  claim_days: fc.constantFrom(0, 12, 90),
})

const warranty = fc.record({
  years: fc.constantFrom(0, 3, 7, 20),
  labour_years: fc.constantFrom(0, 2, 3),
  parts: fc.constantFrom(1, 0.6),
  labour: fc.constantFrom(1, 0.5),
  claim_success: fc.constantFrom(1, 0.7),
  replacement_cover: fc.constantFrom('remaining', 'renewed', 'new-if-bought'),
  replacement_min_years: fc.constantFrom(0, 1.5),
  visits_covered: fc.boolean(),
})

const failure = fc
  .record({
    shape: fc.constantFrom(0.7, 1.3, 3),
    life: fc.constantFrom(3, 8, 20),
    second: fc.boolean(),
    batch: fc.boolean(),
    noneFailed: fc.boolean(),
    model_spread: fc.constantFrom(0, 0.6),
  })
  .map(({ shape, life, second, batch, noneFailed, model_spread }): Block => {
    const bad_batch = batch ? { chance: 0.5, affects: 0.4, life_times: 0.3 } : { chance: 0 }
    const rest = { bad_batch, none_failed_so_far: noneFailed, model_spread }
    if (!second) return weibull(shape, life, rest)
    return {
      modes: [
        { cause: 'early', susceptible: 0.3, shape: 0.7, characteristic_life_years: 2 },
        { cause: 'worn', shape, characteristic_life_years: life },
      ],
      ...rest,
    }
  })

const component = (kind: string, counts: readonly number[], over: Block = {}) =>
  fc
    .record({
      count: fc.constantFrom(...counts),
      age_years: fc.constantFrom(0, 0, 2.4),
      failure,
      downtime,
      warranty,
      on_roof: fc.boolean(),
      successor: fc.constantFrom(null, { surcharge: 77, chance: { 2: 0.4, 9: 0.9 } }),
      restore: fc.constantFrom('replace', 'replace', { repair: { renews: 0.5, parts: 300, labour: 90, at_most: 2 } }),
      replace_at_age_years: fc.constantFrom(null, null, null, 6),
      replacement: fc.record({
        parts: fc.constantFrom(100, 1000),
        labour: fc.constantFrom(50, 210),
        labour_each_further: fc.constantFrom(0, 40),
        parts_growth: fc.constantFrom(-0.02, 0),
      }),
    })
    .map(({ restore, ...rest }) => {
      const years = { ...rest.warranty, labour_years: Math.min(rest.warranty.labour_years, rest.warranty.years) }
      // a repair that may be by any mode needs its prices, and planned replacement goes with both
      return unit(kind, { ...rest, warranty: years, restore, ...over })
    })

const designs = fc.oneof(
  component('string-inverter', [1, 1, 2]).map(one => ['string', [one]] as const),
  component('panel-level-unit', [3, 12]).map(one => ['panel-level', [one]] as const),
  fc
    .tuple(component('panel-level-unit', [12]), component('gateway', [1, 2], {}))
    .map(all => ['panel-level', all] as const),
  fc
    .tuple(
      component('string-inverter', [1, 2], { strings: 2 }),
      component('optimiser', [10], { takes_string_down: 0.3 }),
    )
    .map(all => ['string-optimisers', all] as const),
  fc
    .tuple(component('string-inverter', [1]), component('battery', [2]), component('battery-inverter', [1]))
    .map(all => ['string', all] as const),
  fc.tuple(component('hybrid-inverter', [1]), component('battery', [1])).map(all => ['hybrid', all] as const),
  fc
    .tuple(component('panel-level-unit', [3]), component('battery', [1]), component('battery-inverter', [1]))
    .map(all => ['panel-level', all] as const),
)

/** A scenario with one option. */
export const scenarios: fc.Arbitrary<Block> = fc
  .record({
    design: designs,
    policy: fc.constantFrom('each', 'each', { wait_for_units: 2, wait_at_most_days: 300 }, { wait_for_units: 3 }),
    watched: fc.boolean(),
    exits: fc.constantFrom(0, 0.08),
    selfConsumed: shares,
    growth: fc.constantFrom(0, 0.03),
    discount: fc.constantFrom(0, 0.05),
    degradation: fc.constantFrom(0, 0.006),
    start: fc.constantFrom('2027-01', '2027-07'),
    horizon: fc.constantFrom(7, 18),
    backup: fc.boolean(),
    worth: fc.constantFrom({ value_per_day: 0.8 }, { kwh: 3 }),
  })
  .map(given => {
    const [topology, components] = given.design
    const battery = components.some(({ kind }) => kind === 'battery')
    const gateway = components.some(({ kind }) => kind === 'gateway')
    return world(
      [
        option('One', topology, components, {
          ...(given.policy === 'each' ? {} : { visit_policy: given.policy }),
          ...(gateway ? {} : { monitoring: given.watched ? 'built-in' : 'none' }),
          ...(battery ? { battery: { ...given.worth, without_sun: 0.2, backup: given.backup } } : {}),
          warranty_provider: { exit_rate_per_year: given.exits },
          labour_provider: { exit_rate_per_year: given.exits },
        }),
      ],
      {
        horizon_years: given.horizon,
        start: given.start,
        discount_rate: given.discount,
        site: {
          generation: {
            monthly_kwh: [310, 440, 700, 850, 960, 980, 1000, 900, 720, 500, 330, 260],
            degradation: given.degradation,
          },
          energy_value: {
            import_price_per_kwh: 0.31,
            export_price_per_kwh: 0.07,
            self_consumed: given.selfConsumed,
            price_growth: given.growth,
            export_price_growth: given.growth / 2,
          },
        },
        visit: { call_out: 140, roof_access: 30, labour_growth: 0.01 },
      },
    )
  })
