import type { Malformed } from './malformed.ts'

/** Ways to state failure, delays and successors (M1, M2, M4, M8, O1). */
export const MALFORMED_FAILURE: readonly Malformed[] = [
  {
    name: 'M1 shape over the limit',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {shape: 10001, characteristic_life_years: 12}
`,
    message: [
      'roof.yaml:14:19  options.0.components.0.failure.shape',
      '  found 10001; allowed: a number from 0.05 to 10,000',
    ],
  },
  {
    name: 'M1 shape under the limit',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {shape: 0.01, characteristic_life_years: 12}
`,
    message: [
      'roof.yaml:14:19  options.0.components.0.failure.shape',
      '  found 0.01; allowed: a number from 0.05 to 10,000',
    ],
  },
  {
    name: 'shape without life',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {shape: 2}
`,
    message: [
      'roof.yaml:14:9  options.0.components.0.failure',
      '  says no life; give one of characteristic_life_years, b10_years, mean_life_years, failed_by, modes, records',
    ],
  },
  {
    name: 'life without shape',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {b10_years: 5}
`,
    message: ['roof.yaml:14:9  options.0.components.0.failure', '  "b10_years" needs "shape" next to it'],
  },
  {
    name: 'two lives',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {shape: 2, b10_years: 5, mean_life_years: 12}
`,
    message: [
      'roof.yaml:14:43  options.0.components.0.failure.mean_life_years',
      '  "mean_life_years" and "b10_years" both state when units fail; keep one',
    ],
  },
  {
    name: 'one point without shape',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {failed_by: {10: 12%}}
`,
    message: [
      'roof.yaml:14:19  options.0.components.0.failure.failed_by',
      '  one point needs "shape" next to it; or give two points',
    ],
  },
  {
    name: 'two points and shape',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {shape: 2, failed_by: {10: 12%, 15: 30%}}
`,
    message: [
      'roof.yaml:14:19  options.0.components.0.failure.shape',
      '  two points already fix the shape; drop "shape" or one point',
    ],
  },
  {
    name: 'three points',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {failed_by: {5: 3%, 10: 12%, 15: 30%}}
`,
    message: [
      'roof.yaml:14:19  options.0.components.0.failure.failed_by',
      '  found 3 points; allowed: two, or one with "shape"',
    ],
  },
  {
    name: 'share failed falls with age',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {failed_by: {10: 30%, 15: 12%}}
`,
    message: [
      'roof.yaml:14:40  options.0.components.0.failure.failed_by.15',
      '  the share failed must rise with age, at each bound of a range too',
    ],
  },
  {
    name: 'share failed falls at one bound',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {failed_by: {10: {low: 10%, high: 40%}, 15: {low: 12%, high: 35%}}}
`,
    message: [
      'roof.yaml:14:58  options.0.components.0.failure.failed_by.15',
      '  the share failed must rise with age, at each bound of a range too',
    ],
  },
  {
    name: 'all failed by an age',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {shape: 2, failed_by: {10: 100%}}
`,
    message: [
      'roof.yaml:14:41  options.0.components.0.failure.failed_by.10',
      '  found 100 %; write 99 %: no life fits 100 %',
    ],
  },
  {
    name: 'age no number',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {shape: 2, failed_by: {ten: 10%}}
`,
    message: [
      'roof.yaml:14:41  options.0.components.0.failure.failed_by.ten',
      '  found "ten"; allowed: a number of years from 0 to 100',
    ],
  },
  {
    name: 'mode without life',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {modes: [{cause: fan}]}
`,
    message: [
      'roof.yaml:14:27  options.0.components.0.failure.modes.0',
      '  says no life; give one of characteristic_life_years, b10_years, mean_life_years, failed_by',
    ],
  },
  {
    name: 'records that are not there',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        failure: {records: fit.json}
`,
    message: [
      'roof.yaml:14:19  options.0.components.0.failure.records',
      '  fit.json: there is no such file; check the name',
    ],
  },
  {
    name: 'p90 under the median',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        downtime: {respond_days: {median: 10, p90: 5}}
`,
    message: [
      'roof.yaml:14:47  options.0.components.0.downtime.respond_days.p90',
      '  p90 (5) must be more than the median (10)',
    ],
  },
  {
    name: 'delay with half a table',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        downtime: {respond_days: {median: 10}}
`,
    message: [
      'roof.yaml:14:20  options.0.components.0.downtime.respond_days.p90',
      '  missing; needed: a number above 0, at most 36,500 days',
    ],
  },
  {
    name: 'successor falls',
    from: `        ac_kw: 5
`,
    to: `        ac_kw: 5
        successor: {surcharge: 100, chance: {5: 50%, 10: 20%}}
`,
    message: ['roof.yaml:14:54  options.0.components.0.successor.chance.10', '  the share may not fall with age'],
  },
  {
    name: 'M4 one model, two kinds of failure',
    from: `        count: 20
`,
    to: `        model: a
        replacement: {parts: 150, labour: 90}
      - kind: panel-level-unit
        model: a
        failure: {shape: 2, mean_life_years: 12}
`,
    message: [
      'roof.yaml:25:9  options.1.components.1.failure',
      '  differs from options.1.components.0.failure; components of model "a" must agree in kind, tier, failure, successor',
    ],
  },
  {
    name: 'M2 one model, one flag',
    from: `        count: 20
`,
    to: `        model: a
        failure: {none_failed_so_far: true}
        replacement: {parts: 150, labour: 90}
      - kind: panel-level-unit
        model: a
        failure: {none_failed_so_far: false}
`,
    message: [
      'roof.yaml:26:9  options.1.components.1.failure',
      '  differs from options.1.components.0.failure; components of model "a" must agree in kind, tier, failure, successor',
    ],
  },
]
