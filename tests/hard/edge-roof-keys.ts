import type { Block } from '../worlds.ts'
import type { EdgeKey } from './edge-keys.ts'

const SUN = [1.1, 1.9, 3.2, 4.4, 5.4, 5.9, 6.0, 5.1, 3.7, 2.2, 1.3, 0.9]

/** Two faces of four and three panels, played hour by hour: a hybrid with battery, some optimisers, panel-level units. */
export const ROOF: Block = {
  title: 'Edges of a roof',
  horizon_years: 15,
  prices_from_evidence: { factor: 0.92 },
  site: {
    location: { latitude: 47, monthly_ghi_kwh_m2_day: SUN },
    generation: {
      arrays: [
        { name: 'south', panels: 4, panel_w: 400, tilt: 30, azimuth: 180, input: 1, shade: 'light' },
        { name: 'west', panels: 3, panel_w: 400, tilt: 30, azimuth: 270, input: 2 },
      ],
    },
    energy_value: { import_price_per_kwh: 0.3, export_price_per_kwh: 0.08 },
    load: { annual_kwh: 3000 },
  },
  visit: { call_out: 140, roof_access: 60 },
  options: [
    {
      name: 'Hybrid',
      topology: 'hybrid',
      upfront_cost: 9000,
      battery: { kwh: 5 },
      components: [{ kind: 'hybrid-inverter', ac_kw: 3, replacement: { parts: 1500, labour: 300 } }],
    },
    {
      name: 'Some',
      topology: 'string-some-optimisers',
      upfront_cost: 5400,
      optimisers_on: { south: 2, west: 1 },
      components: [
        { kind: 'string-inverter', ac_kw: 3, replacement: { parts: 900, labour: 260 } },
        { kind: 'optimiser', count: 3, replacement: { parts: 60, labour: 90 } },
      ],
    },
    {
      name: 'Panel',
      topology: 'panel-level',
      upfront_cost: 6200,
      components: [{ kind: 'panel-level-unit', count: 7, ac_kw: 0.35, replacement: { parts: 150, labour: 90 } }],
    },
  ],
}

const BATTERY: readonly EdgeKey[] = [
  ['scenario', 'options.0.battery.kwh', [0, 1e-9, 100_000]],
  ['scenario', 'options.0.battery.kw', [0, 1e-9, 100_000]],
  ['scenario', 'options.0.battery.round_trip', ['10%', 1]],
  ['scenario', 'options.0.battery.value_per_day', [0, 1e9, { low: 0.001, high: 9 }]],
  ['scenario', 'options.0.battery.without_sun', [0, 1]],
  ['scenario', 'options.0.battery.backup', [true]],
]

const INVERTER: readonly EdgeKey[] = [
  ['component', 'ac_kw', [0.001, 100_000]],
  ['component', 'weighted_efficiency', [0.5, 1]],
  ['scenario', 'options.0.components.0.strings', [1, 1000]],
  ['scenario', 'options.0.components.0.inputs', [1, 100]],
  ['scenario', 'options.0.components.0.phases', [1, 3]],
  ['component', 'failure', [{ shape: 10_000, characteristic_life_years: 4 }]],
  ['component', 'age_years', [0.001, 100]],
]

const HOUSE: readonly EdgeKey[] = [
  ['scenario', 'horizon_years', [1, 3, 60]],
  ['scenario', 'start', ['2027-12']],
  ['scenario', 'site.load', [undefined]],
  ['scenario', 'site.load.annual_kwh', [1e-9, 1e9]],
  ['scenario', 'site.load.shape', ['flat', { hourly_csv: 'examples/workshop-use.csv' }]],
  [
    'scenario',
    'site.network',
    [
      { export_limit_kw: 0 },
      { export_limit_kw: 0.001, phases: 3, nets_across_phases: false },
      { ac_limit_kw_per_phase: 1e6, max_dc_ac_ratio: 5 },
    ],
  ],
  ['scenario', 'site.generation.degradation', [0, 0.2]],
  ['scenario', 'site.energy_value.import_price_per_kwh', [0, 1000]],
  ['scenario', 'site.energy_value.export_price_per_kwh', [0, 1000, { low: 0.001, high: 900 }]],
  ['scenario', 'site.energy_value.self_consumed', [0, 1, { low: '1%', high: '99%' }]],
  ['option', 'visit_policy', ['each', { wait_for_units: 2, wait_at_most_days: 0 }]],
  ['option', 'later', [[{ name: 'a', year: { low: 0.5, high: 60 }, chance: '50%', cost: 500 }]]],
]

const SHADES = [
  'none',
  'heavy',
  [],
  [{ months: [1, 12], hours: [0, 24], beam_lost: 1 }],
  [{ months: [11, 2], hours: [11.99, 12], panels: [3, 3], beam_lost: 0.001 }],
]

/** The keys that go with arrays. */
export const ROOF_KEYS: readonly EdgeKey[] = [
  ...HOUSE,
  ...INVERTER,
  ...BATTERY,
  ['scenario', 'site.location.latitude', [-65, -23.5, 0, 65]],
  ['scenario', 'site.location.monthly_ghi_kwh_m2_day', [SUN.map(() => 12), [0.001, ...SUN.slice(1).map(() => 0)]]],
  [
    'scenario',
    'site.location',
    [
      { latitude: 0, climate: 'dry' },
      { latitude: 65, climate: 'cloudy' },
    ],
  ],
  ['scenario', 'site.location', [{ latitude: 47, hourly_csv: 'examples/workshop-light.csv' }]],
  ['scenario', 'site.location.monthly_air_temperature_c', [SUN.map(() => -60), SUN.map(() => 60)]],
  ['scenario', 'site.generation.losses', [0, 0.5]],
  ['scenario', 'site.generation.arrays.0.panel_w', [1, 2000]],
  ['scenario', 'site.generation.arrays.0.tilt', [0, 90]],
  ['scenario', 'site.generation.arrays.0.azimuth', [0, 360]],
  ['scenario', 'site.generation.arrays.0.input', [2]],
  ['scenario', 'site.generation.arrays.0.strings', [2, 4]],
  ['scenario', 'site.generation.arrays.1.wiring', ['series', 'parallel']],
  ['scenario', 'site.generation.arrays.0.mounting', ['close-roof', 'rack', 'open']],
  ['scenario', 'site.generation.arrays.0.shade', SHADES],
  ['scenario', 'site.generation.arrays.1.shade', SHADES],
  ['scenario', 'site.generation.arrays.1.horizon', [[], [{ azimuth: 0, height: 90 }], [{ azimuth: 360, height: 0 }]]],
  ['scenario', 'options.1.optimisers_on', [{ south: 3 }, { south: 0, west: 3 }]],
  ['scenario', 'options.1.components.1.takes_string_down', [0, 1, { low: '1%', high: '99%' }]],
  ['scenario', 'options.2.components.0.count', [1, 4, 14]],
]

/** A measured year of hours, clipped by two inverters of one house, one with a battery behind it. */
export const HOURS: Block = {
  title: 'Edges of hours',
  horizon_years: 15,
  prices_from_evidence: { factor: 0.92 },
  site: {
    panels: 10,
    panel_w: 400,
    generation: { hourly_csv: 'examples/measured-year.csv' },
    energy_value: { import_price_per_kwh: 0.31, export_price_per_kwh: 0.08 },
    load: { annual_kwh: 3800, shape: 'day-evening' },
  },
  visit: { call_out: 140, roof_access: 60 },
  options: [
    {
      name: 'Hybrid',
      topology: 'hybrid',
      upfront_cost: 9000,
      battery: { kwh: 5 },
      components: [{ kind: 'hybrid-inverter', ac_kw: 3, replacement: { parts: 1500, labour: 300 } }],
    },
    {
      name: 'Two',
      topology: 'string',
      upfront_cost: 5000,
      components: [
        { kind: 'string-inverter', ac_kw: 2, share: 0.6, replacement: { parts: 900, labour: 260 } },
        { kind: 'string-inverter', ac_kw: 2, share: 0.4, replacement: { parts: 900, labour: 260 } },
      ],
    },
  ],
}

/** The keys that go with a file of hours. */
export const HOURS_KEYS: readonly EdgeKey[] = [
  ...HOUSE,
  ...INVERTER,
  ...BATTERY,
  ['option', 'design_losses', [{ mismatch_and_shade: 0.95 }, { clipping: 0.4, conversion: 0.4 }]],
  ['scenario', 'site.generation.annual_kwh', [0.001, 1e10]],
  ['scenario', 'site.generation.as_quoted_for', ['Hybrid', 'Two']],
  ['scenario', 'site.generation.includes_downtime', [0, 0.5]],
  ['scenario', 'site.generation.hourly_csv', [{ file: 'examples/workshop-use.csv', column: 'kwh' }]],
  ['scenario', 'options.1.components.0.share', [1e-9, 0.6]],
  ['scenario', 'options.1.components.1.share', [1e-9, 0.4]],
]
