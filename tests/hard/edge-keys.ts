import type { Block } from '../worlds.ts'

const MONTHS = [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]

/** Two designs with few units and months of energy, so that one case plays in a fraction of a second. */
export const PLAIN: Block = {
  title: 'Edges',
  horizon_years: 20,
  site: {
    panels: 6,
    generation: { monthly_kwh: MONTHS },
    energy_value: { import_price_per_kwh: 0.3, export_price_per_kwh: 0.08 },
  },
  visit: { call_out: 140, roof_access: 60 },
  options: [
    {
      name: 'String',
      topology: 'string',
      upfront_cost: 5000,
      components: [
        {
          kind: 'string-inverter',
          ac_kw: 5,
          failure: { shape: 2, characteristic_life_years: 14 },
          replacement: { parts: 900, labour: 260 },
          warranty: { years: 5, labour_years: 2, replacement_cover: 'remaining' },
        },
      ],
    },
    {
      name: 'Panel',
      topology: 'panel-level',
      upfront_cost: 6200,
      components: [
        {
          kind: 'panel-level-unit',
          count: 6,
          ac_kw: 0.3,
          replacement: { parts: 150, labour: 90 },
          warranty: { replacement_cover: 'renewed' },
        },
        { kind: 'gateway', replacement: { parts: 200 } },
      ],
    },
  ],
}

/** What is changed in a place of the file: the whole of it, an option, or its first component. */
export type Place = 'scenario' | 'option' | 'component'

const MONEY = [0, 1e-6, 1e9, { low: 1, high: 1e6 }]
const SHARE = [0, 1, 0.5, { low: '1%', high: '99%' }]
const GROWTH = [-0.5, 0.5, { low: '-50%', high: '50%' }]
const DAYS = [0, 3650, { low: 0.001, high: 3650 }, { median: 0.01, p90: 36_500 }]
const YEARS = [0, 0.1, 100]
const PRICE = [0, 1000, { low: 0.001, high: 999 }]

/** A key by its path, with values at its edges; a value that needs other keys has them, undefined leaves the key out. */
export type EdgeKey = readonly [place: Place, path: string, values: readonly unknown[]]

/** The keys that go with months of energy. */
export const PLAIN_KEYS: readonly EdgeKey[] = [
  ['scenario', 'horizon_years', [1, 2, 10, 60]],
  ['scenario', 'start', ['2027-12', '2028-02']],
  ['scenario', 'discount_rate', GROWTH.slice(0, 2)],
  ['scenario', 'residual_value', ['straight-line']],
  ['scenario', 'tier_effect', [0, 5]],
  ['scenario', 'reserve.interest', GROWTH.slice(0, 2)],
  ['scenario', 'reserve.opening', [0, 1e9]],
  ['scenario', 'reserve.confidence', [0.5, 0.999]],
  ['scenario', 'reserve.inflation', [0, 0.5]],
  ['scenario', 'site.generation.annual_kwh', [0.001, 1e10]],
  ['scenario', 'site.generation.monthly_kwh', [[0.001, ...MONTHS.slice(1).map(() => 0)], MONTHS.map(() => 1e9)]],
  ['scenario', 'site.generation.degradation', [0, 0.2]],
  ['scenario', 'site.generation.includes_downtime', [0, 0.5]],
  ['scenario', 'site.generation.as_quoted_for', ['String', 'Panel']],
  ['scenario', 'site.energy_value.import_price_per_kwh', PRICE],
  ['scenario', 'site.energy_value.export_price_per_kwh', PRICE],
  ['scenario', 'site.energy_value.self_consumed', [...SHARE, MONTHS.map((_, month) => month % 2)]],
  ['scenario', 'site.energy_value.price_growth', GROWTH],
  ['scenario', 'site.energy_value.export_price_growth', GROWTH],
  ['scenario', 'site.network', [{ phases: 3, export_limit_kw: 0 }, { max_dc_ac_ratio: 0.5 }]],
  ['scenario', 'visit.call_out', MONEY],
  ['scenario', 'visit.roof_access', MONEY],
  ['scenario', 'visit.labour_growth', GROWTH],
  ['option', 'upfront_cost', [0, 1e9]],
  ['option', 'yearly_cost', MONEY],
  ['scenario', 'options.0.monitoring', ['none', 'built-in']],
  ['option', 'visit_policy', [{ wait_for_units: 1 }, { wait_for_units: 100_000, wait_at_most_days: 36_500 }]],
  ['option', 'visit_policy', [{ wait_for_units: 2, wait_at_most_days: 0 }]],
  ['option', 'design_losses', [{ mismatch_and_shade: 0.95 }, { clipping: 0.4, conversion: 0.4 }]],
  ['option', 'battery', [{ value_per_day: 0 }, { value_per_day: 1e9, without_sun: 1, backup: true }]],
  ['option', 'later', [[{ name: 'a', year: 0, cost: 1e9 }], [{ name: 'a', year: 60, chance: 0, cost: 0 }]]],
  ['option', 'warranty_provider', [{ exit_rate_per_year: 0 }, { exit_rate_per_year: 0.99, name: 'one' }]],
  ['option', 'labour_provider', [{ exit_rate_per_year: { low: 0.001, high: 0.98 } }]],
  [
    'option',
    'warranty_offers',
    [[{ years: 100, labour_years: 100, price: 0, taken: true }], [{ years: 50, price: 1e9 }]],
  ],
  ['component', 'age_years', [0.001, 30, 100]],
  ['component', 'model', ['shared']],
  ['component', 'failure', [0.05, 0.5, 1, 10_000].map(shape => ({ shape, characteristic_life_years: 9 }))],
  [
    'component',
    'failure',
    [
      { shape: 3, b10_years: 1e5 },
      { shape: 1, mean_life_years: 2 },
    ],
  ],
  ['component', 'failure', [{ shape: 2, characteristic_life_years: { low: 2, high: 200 }, model_spread: 2 }]],
  ['component', 'failure', [{ failed_by: { 5: '0.1%', 15: '99%' } }, { failed_by: { 10: 1e-9 }, shape: 2 }]],
  [
    'component',
    'failure',
    [{ shape: 2, characteristic_life_years: 9, bad_batch: { chance: 1, affects: 1, life_times: 0.2 } }],
  ],
  ['component', 'failure', [{ shape: 2, characteristic_life_years: 9, model_spread: 0, none_failed_so_far: true }]],
  [
    'component',
    'failure',
    [
      {
        modes: [
          { cause: 'a', susceptible: 0.01, shape: 10_000, characteristic_life_years: 3 },
          { cause: 'b', shape: 0.3, b10_years: 6 },
        ],
      },
    ],
  ],
  ['component', 'downtime.detect_days', DAYS],
  ['component', 'downtime.detect_days_unmonitored', DAYS],
  ['component', 'downtime.respond_days', DAYS],
  ['component', 'downtime.repair_days', DAYS],
  ['component', 'downtime.claim_days', [0, 3650]],
  ['component', 'replacement.parts', MONEY],
  ['component', 'replacement.labour', MONEY],
  ['component', 'replacement.labour_each_further', MONEY],
  ['component', 'replacement.parts_growth', GROWTH],
  ['component', 'warranty.years', YEARS],
  ['component', 'warranty.labour_years', YEARS],
  ['component', 'warranty.parts', SHARE.slice(0, 3)],
  ['component', 'warranty.labour', SHARE.slice(0, 3)],
  ['component', 'warranty.claim_success', SHARE],
  ['component', 'warranty.replacement_cover', ['remaining', 'renewed', 'new-if-bought']],
  ['component', 'warranty.replacement_min_years', YEARS],
  ['component', 'warranty.visits_covered', [true]],
  [
    'component',
    'successor',
    [
      { surcharge: 1e9, chance: { 0: 1 } },
      { surcharge: 0, chance: { 0: 0, 5: '10%', 15: 1 } },
    ],
  ],
  [
    'component',
    'restore',
    [{ repair: { renews: 0, parts: 0, labour: 0 } }, { repair: { renews: 1, parts: 1e9, labour: 1 } }],
  ],
  ['component', 'restore', [{ repair: { renews: 0.5, parts: 9, labour: 9, at_most: 0 } }]],
  ['component', 'replace_at_age_years', [0.25, 12, 100]],
  ['component', 'on_roof', [true, false]],
  ['component', 'needs_visit', [true, false]],
]
