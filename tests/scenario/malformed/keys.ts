import type { Malformed } from './malformed.ts'

/** Keys and blocks that are not there, not known, or in the wrong place. */
export const MALFORMED_KEYS: readonly Malformed[] = [
  {
    name: 'misspelt key',
    from: 'warranty:',
    to: 'waranty:',
    message: ['roof.yaml:15:9  options.0.components.0.waranty', '  unknown key "waranty"; did you mean "warranty"?'],
  },
  {
    name: 'a key far from all known ones',
    from: 'title: Plain',
    to: 'zebra: Plain',
    message: [
      'roof.yaml:1:1  zebra',
      '  unknown key "zebra"; known here: title, currency, horizon_years, start, discount_rate, residual_value, reserve, prices_from_evidence, tier_effect, site, visit, options',
    ],
  },
  {
    name: 'a key in the wrong block',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        model_spread: 0.3
`,
    message: [
      'roof.yaml:14:9  options.0.components.0.model_spread',
      '  unknown key "model_spread" here; write  failure: {model_spread: 0.3}',
    ],
  },
  {
    name: 'site missing',
    from: '',
    to: `title: x
options: []
`,
    message: [
      'roof.yaml:1:1  site',
      '  missing; needed: a block with keys of panels, panel_w, generation, energy_value, network, location, load',
      'roof.yaml:2:1  options',
      '  found a list of 0; allowed: a list of 1 to 50 options',
    ],
  },
  {
    name: 'options no list',
    from: '',
    to: `site: {generation: {monthly_kwh: [1,1,1,1,1,1,1,1,1,1,1,1]}, energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.1}}
options: none
`,
    message: ['roof.yaml:2:1  options', '  found "none"; allowed: a list of 1 to 50 options'],
  },
  {
    name: 'scenario is a list',
    from: '',
    to: `- a
- b
`,
    message: [
      'roof.yaml:1:1',
      '  found a list of 2; allowed: a block with keys of title, currency, horizon_years, start, discount_rate, residual_value, reserve, prices_from_evidence, tier_effect, site, visit, options',
    ],
  },
  {
    name: 'scenario is a word',
    from: '',
    to: `hello
`,
    message: [
      'roof.yaml:1:1',
      '  found "hello"; allowed: a block with keys of title, currency, horizon_years, start, discount_rate, residual_value, reserve, prices_from_evidence, tier_effect, site, visit, options',
    ],
  },
  {
    name: 'restore unknown word',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        restore: mend
`,
    message: [
      'roof.yaml:14:9  options.0.components.0.restore',
      '  found "mend"; allowed: replace, or {repair: {renews, parts, labour}}',
    ],
  },
  {
    name: 'no generation',
    from: 'generation: {monthly_kwh: [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]}',
    to: 'generation: {degradation: 0.5%}',
    message: [
      'roof.yaml:4:3  site.generation',
      '  says no energy; give one of annual_kwh, monthly_kwh, hourly_csv, arrays',
    ],
  },
  {
    name: 'two generations',
    from: 'generation: {',
    to: 'generation: {hourly_csv: a.csv, ',
    message: [
      'roof.yaml:4:16  site.generation.hourly_csv',
      '  "hourly_csv" and "monthly_kwh" both state the energy; keep one',
    ],
  },
  {
    name: 'an hourly file that is not there',
    from: 'generation: {monthly_kwh: [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]}',
    to: 'generation: {hourly_csv: a.csv}',
    message: ['roof.yaml:4:16  site.generation.hourly_csv', '  a.csv: there is no such file; check the name'],
  },
  {
    name: 'eleven months',
    from: '[250, 360,',
    to: '[360,',
    message: [
      'roof.yaml:4:16  site.generation.monthly_kwh',
      '  found 11 values; allowed: twelve values, January first, e.g. [250, 360, …]',
    ],
  },
  {
    name: 'a load beside twelve months',
    from: '  panels: 20',
    to: `  load: {annual_kwh: 4000}
  panels: 20`,
    message: [
      'roof.yaml:3:3  site.load',
      '  "load" needs the hours of the energy: give arrays or hourly_csv, or write site.energy_value.self_consumed instead',
    ],
  },
  {
    name: 'several things in order of line',
    from: `site:
  panels: 20`,
    to: `horizon_years: 0
site:
  panels: -1`,
    message: [
      'roof.yaml:2:1  horizon_years',
      '  found 0; allowed: a whole number from 1 to 60 years',
      'roof.yaml:4:3  site.panels',
      '  found -1; allowed: a whole number from 1 to 1,000,000 panels',
    ],
  },
]
