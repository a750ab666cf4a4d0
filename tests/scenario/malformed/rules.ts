import type { Malformed } from './malformed.ts'

/** Rules between blocks: kinds, prices, offers, providers, models, shares. */
export const MALFORMED_RULES: readonly Malformed[] = [
  {
    name: 'too many units in sum',
    from: 'count: 20',
    to: `count: 100000
      - {kind: gateway, count: 2, replacement: {parts: 1}}
      - {kind: panel-level-unit, count: 1, replacement: {parts: 150, labour: 90}}
      - {kind: panel-level-unit, count: 20, replacement: {parts: 150, labour: 90}}
      - kind: panel-level-unit`,
    message: [
      'roof.yaml:19:5  options.1.components',
      '  found 100,024 units; one option may have at most 100,000 units',
    ],
  },
  {
    name: 'hybrid without hybrid inverter',
    from: 'topology: string',
    to: 'topology: hybrid',
    message: [
      'roof.yaml:11:5  options.0.components',
      '  topology "hybrid" needs a component of kind hybrid-inverter; add it, or change the kind of one that is listed',
    ],
  },
  {
    name: 'a kind that does not go with the topology',
    from: 'kind: panel-level-unit',
    to: 'kind: optimiser',
    message: [
      'roof.yaml:19:5  options.1.components',
      '  topology "panel-level" needs a component of kind panel-level-unit; add it, or change the kind of one that is listed',
      'roof.yaml:20:9  options.1.components.0.kind',
      '  "optimiser" does not go with topology "panel-level"; allowed: panel-level-unit, gateway, battery, battery-inverter',
    ],
  },
  {
    name: 'O2 monitoring beside a gateway',
    from: `    components:
      - kind: string-inverter`,
    to: `    monitoring: none
    components:
      - {kind: gateway, replacement: {parts: 200}}
      - kind: string-inverter`,
    message: [
      'roof.yaml:11:5  options.0.monitoring',
      '  "monitoring" is given although there is a gateway, which decides it; drop one of the two',
    ],
  },
  {
    name: 'O4 optimisers on some panels without panels',
    from: '',
    to: `site:
  generation: {monthly_kwh: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
prices_from_evidence: {factor: 1}
options:
  - name: A
    topology: string-some-optimisers
    upfront_cost: 1
    components:
      - {kind: string-inverter, ac_kw: 5}
      - {kind: optimiser, count: 3}
`,
    message: [
      'roof.yaml:11:9  options.0.components.1.share',
      '  missing; optimisers on some panels need "share" here, or the number of panels in site.panels',
    ],
  },
  {
    name: 'tier on a gateway',
    from: 'kind: panel-level-unit',
    to: `tier: robust
        kind: panel-level-unit`,
    message: [
      'roof.yaml:20:9  options.1.components.0.tier',
      '  found "robust" on a panel-level unit; only a string-inverter has tiers: drop it',
    ],
  },
  {
    name: 'missing price',
    from: `        replacement: {parts: 900, labour: 260}
`,
    to: '',
    message: [
      'roof.yaml:12:9  options.0.components.0.replacement.parts',
      '  missing; typical is 900 USD (180 USD a kW). Write your price, or take usual ones: prices_from_evidence: yes',
      'roof.yaml:12:9  options.0.components.0.replacement.labour',
      '  missing; typical is 300 USD. Write your price, or take usual ones: prices_from_evidence: yes',
    ],
  },
  {
    name: 'missing call-out and access',
    from: `visit: {call_out: 140, roof_access: 60}
`,
    to: '',
    message: [
      'roof.yaml:1:1  visit.call_out',
      '  missing; typical is 200 USD. Write your price, or take usual ones: prices_from_evidence: yes',
      'roof.yaml:1:1  visit.roof_access',
      '  missing; typical is 100 USD. Write your price, or take usual ones: prices_from_evidence: yes',
    ],
  },
  {
    name: 'repair without price',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        restore: {repair: {renews: 50%}}
`,
    message: [
      'roof.yaml:14:19  options.0.components.0.restore.repair.parts',
      '  missing; needed: an amount of money from 0 to 1,000,000,000',
      'roof.yaml:14:19  options.0.components.0.restore.repair.labour',
      '  missing; needed: an amount of money from 0 to 1,000,000,000',
    ],
  },
  {
    name: 'W6 offer no longer than the present term',
    from: `    upfront_cost: 6900
`,
    to: `    upfront_cost: 6900
    warranty_offers: [{years: 10, price: 100}]
`,
    message: [
      'roof.yaml:11:24  options.0.warranty_offers.0.years',
      '  found 10 years; the present term is 10 years already: an offer must be longer',
    ],
  },
  {
    name: 'W6 two offers taken',
    from: `    upfront_cost: 6900
`,
    to: `    upfront_cost: 6900
    warranty_offers: [{years: 12, price: 100, taken: true}, {years: 15, price: 200, taken: true}]
`,
    message: [
      'roof.yaml:11:85  options.0.warranty_offers.1.taken',
      '  another offer for this component is taken already; at most one may be',
    ],
  },
  {
    name: 'W6 offer for a component that is not there',
    from: `    upfront_cost: 6900
`,
    to: `    upfront_cost: 6900
    warranty_offers: [{component: battery, years: 12, price: 100}]
`,
    message: [
      'roof.yaml:11:24  options.0.warranty_offers.0.component',
      '  the option has no battery; it has string-inverter',
    ],
  },
  {
    name: 'two options of one name',
    from: 'name: Panel',
    to: 'name: String',
    message: ['roof.yaml:16:5  options.1.name', '  another option is named "String" already; give each its own name'],
  },
  {
    name: 'as_quoted_for an option that is not there',
    from: 'generation: {',
    to: 'generation: {as_quoted_for: Strng, ',
    message: ['roof.yaml:4:16  site.generation.as_quoted_for', '  no option is named "Strng"; did you mean "String"?'],
  },
  {
    name: 'W5 provider with two rates',
    from: `    upfront_cost: 6900
`,
    to: `    upfront_cost: 6900
    warranty_provider: {name: m, exit_rate_per_year: 2%}
    labour_provider: {name: m, exit_rate_per_year: 5%}
`,
    message: [
      'roof.yaml:12:32  options.0.labour_provider.exit_rate_per_year',
      '  found 5%, but options.0.warranty_provider.exit_rate_per_year says 2%; "m" is one provider and has one rate',
    ],
  },
  {
    name: 'W5 provider whose evidence differs',
    from: `    upfront_cost: 6900
`,
    to: `    upfront_cost: 6900
    warranty_provider: {name: m}
    labour_provider: {name: m}
`,
    message: [
      'roof.yaml:12:5  options.0.labour_provider.exit_rate_per_year',
      '  missing; for "m" the evidence has different rates (3% and 7% a year): write one',
    ],
  },
  {
    name: 'losses over everything',
    from: `    upfront_cost: 6900
`,
    to: `    upfront_cost: 6900
    design_losses: {mismatch_and_shade: 60%, clipping: 40%}
`,
    message: [
      'roof.yaml:11:5  options.0.design_losses',
      '  the losses add up to 100%; together they may take at most 95%',
    ],
  },
  {
    name: 'shares over one',
    from: `    components:
      - kind: string-inverter
`,
    to: `    components:
      - {kind: string-inverter, ac_kw: 5, share: 40%, replacement: {parts: 1, labour: 1}}
      - kind: string-inverter
        share: 80%
`,
    message: [
      'roof.yaml:11:5  options.0.components',
      '  the shares of string-inverter and hybrid-inverter add up to 120%; allowed: at most 100%',
    ],
  },
  {
    name: 'rating of one inverter only',
    from: `    components:
      - kind: string-inverter
`,
    to: `    components:
      - {kind: string-inverter, replacement: {parts: 1, labour: 1}}
      - kind: string-inverter
`,
    message: [
      'roof.yaml:12:9  options.0.components.0.ac_kw',
      '  missing; inverters of one option share the energy by their rating: give "ac_kw" to all of them, or "share"',
    ],
  },
  {
    name: 'strings on a panel-level unit',
    from: `        count: 20
`,
    to: `        count: 20
        strings: 2
`,
    message: [
      'roof.yaml:22:9  options.1.components.0.strings',
      '  only a string-inverter or hybrid-inverter has strings; this is a panel-level unit',
    ],
  },
  {
    name: 'battery without prices',
    from: `    components:
      - kind: string-inverter
`,
    to: `    components:
      - {kind: battery}
      - kind: string-inverter
`,
    message: [
      'roof.yaml:12:9  options.0.components.0.replacement.parts',
      '  missing; typical is 400 USD a kWh. Write your price, or take usual ones: prices_from_evidence: yes',
      'roof.yaml:12:9  options.0.components.0.replacement.labour',
      '  missing; typical is 400 USD. Write your price, or take usual ones: prices_from_evidence: yes',
    ],
  },
  {
    name: 'optimisers_on without arrays',
    from: `    upfront_cost: 6900
`,
    to: `    upfront_cost: 6900
    optimisers_on: {west: 3}
`,
    message: [
      'roof.yaml:11:5  options.0.optimisers_on',
      '  "optimisers_on" names arrays and needs site.generation.arrays; leave it out',
    ],
  },
]
