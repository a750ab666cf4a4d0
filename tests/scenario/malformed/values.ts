import type { Malformed } from './malformed.ts'

/** Single values out of their domain. */
export const MALFORMED_VALUES: readonly Malformed[] = [
  {
    name: 'horizon a million years',
    from: 'title: Plain',
    to: 'horizon_years: 1000000',
    message: ['roof.yaml:1:1  horizon_years', '  found 1000000; allowed: a whole number from 1 to 60 years'],
  },
  {
    name: 'horizon not whole',
    from: 'title: Plain',
    to: 'horizon_years: 12.5',
    message: ['roof.yaml:1:1  horizon_years', '  found 12.5; allowed: a whole number from 1 to 60 years'],
  },
  {
    name: 'horizon in words',
    from: 'title: Plain',
    to: 'horizon_years: twenty',
    message: ['roof.yaml:1:1  horizon_years', '  found "twenty"; allowed: a whole number from 1 to 60 years'],
  },
  {
    // Used to be played, swap by swap, for minutes.
    name: 'a swap every third day',
    from: 'ac_kw: 0.29',
    to: 'replace_at_age_years: 0.01',
    message: [
      'roof.yaml:22:9  options.1.components.0.replace_at_age_years',
      '  found 0.01; allowed: a number from 0.25 to 100 years',
    ],
  },
  {
    name: 'billion units',
    from: 'count: 20',
    to: 'count: 1000000000',
    message: [
      'roof.yaml:21:9  options.1.components.0.count',
      '  found 1000000000; allowed: a whole number from 1 to 100,000 units',
    ],
  },
  {
    name: 'share above one',
    from: 'years: 10, labour_years: 2',
    to: 'years: 10, labour_years: 2, parts: 80',
    message: [
      'roof.yaml:15:48  options.0.components.0.warranty.parts',
      '  found 80; allowed: a share from 0% to 100%, written like 12% or 0.12; if you mean 80 %, write 80%',
    ],
  },
  {
    name: 'share in quotes',
    from: 'years: 10, labour_years: 2',
    to: `years: 10, labour_years: 2, parts: '0.8'`,
    message: [
      'roof.yaml:15:48  options.0.components.0.warranty.parts',
      '  found "0.8"; allowed: a share from 0% to 100%, written like 12% or 0.12',
    ],
  },
  {
    name: 'growth too large',
    from: 'title: Plain',
    to: 'discount_rate: 4',
    message: [
      'roof.yaml:1:1  discount_rate',
      '  found 4; allowed: a yearly rate from -50% to 50%, written like 2% or 0.02; if you mean 4 %, write 4%',
    ],
  },
  {
    name: 'negative price',
    from: 'parts: 900',
    to: 'parts: -900',
    message: [
      'roof.yaml:14:23  options.0.components.0.replacement.parts',
      '  found -900; allowed: an amount of money from 0 to 1,000,000,000',
    ],
  },
  {
    name: 'price not finite',
    from: 'parts: 900',
    to: 'parts: .inf',
    message: [
      'roof.yaml:14:23  options.0.components.0.replacement.parts',
      '  found Infinity; allowed: an amount of money from 0 to 1,000,000,000',
    ],
  },
  {
    name: 'price not a number',
    from: 'parts: 900',
    to: 'parts: .nan',
    message: [
      'roof.yaml:14:23  options.0.components.0.replacement.parts',
      '  found NaN; allowed: an amount of money from 0 to 1,000,000,000',
    ],
  },
  {
    name: 'price with currency',
    from: 'parts: 900',
    to: 'parts: 900 EUR',
    message: [
      'roof.yaml:14:23  options.0.components.0.replacement.parts',
      '  found "900 EUR"; allowed: an amount of money from 0 to 1,000,000,000; write 900',
    ],
  },
  {
    name: 'unknown topology',
    from: 'topology: string',
    to: 'topology: strnig',
    message: [
      'roof.yaml:9:5  options.0.topology',
      '  found "strnig"; allowed: one of string, hybrid, panel-level, string-optimisers, string-some-optimisers; did you mean "string"?',
    ],
  },
  {
    name: 'unknown kind',
    from: 'kind: string-inverter',
    to: 'kind: central-inverter',
    message: [
      'roof.yaml:12:9  options.0.components.0.kind',
      '  found "central-inverter"; allowed: one of string-inverter, hybrid-inverter, panel-level-unit, optimiser, gateway, battery, battery-inverter, dc-isolator',
    ],
  },
  {
    name: 'twelve zeros',
    from: '[250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]',
    to: '[0,0,0,0,0,0,0,0,0,0,0,0]',
    message: [
      'roof.yaml:4:16  site.generation.monthly_kwh',
      '  the twelve months add up to 0 kWh; allowed: at least 0.001 kWh in the year; check the figures and their unit',
    ],
  },
  {
    name: 'two phases',
    from: '  panels: 20',
    to: `  network: {phases: 2}
  panels: 20`,
    message: ['roof.yaml:3:13  site.network.phases', '  found 2; allowed: 1 or 3'],
  },
  {
    name: 'start as a year of three digits',
    from: 'title: Plain',
    to: 'start: 202',
    message: ['roof.yaml:1:1  start', '  found 202; allowed: a month like 2027-03'],
  },
  {
    name: 'month thirteen',
    from: 'title: Plain',
    to: 'start: 2027-13',
    message: ['roof.yaml:1:1  start', '  found "2027-13"; allowed: a month like 2027-03'],
  },
  {
    name: 'currency in small letters',
    from: 'title: Plain',
    to: 'currency: eur',
    message: ['roof.yaml:1:1  currency', '  found "eur"; write  currency: EUR'],
  },
  {
    name: 'name over two lines',
    from: 'title: Plain',
    to: 'title: "a\\nb"',
    message: ['roof.yaml:1:1  title', '  found "a\\nb"; allowed: a text of 1 to 200 characters on one line'],
  },
  {
    name: 'empty name',
    from: 'name: Panel',
    to: 'name: ""',
    message: ['roof.yaml:16:5  options.1.name', '  found ""; allowed: a text of 1 to 200 characters on one line'],
  },
]
