import type { Malformed } from './malformed.ts'

/** Ranges (U1a). */
export const MALFORMED_RANGES: readonly Malformed[] = [
  {
    name: 'U1a range upside down',
    from: 'import_price_per_kwh: 0.3',
    to: 'import_price_per_kwh: {low: 0.4, high: 0.3}',
    message: ['roof.yaml:5:18  site.energy_value.import_price_per_kwh', '  low (0.4) must be less than high (0.3)'],
  },
  {
    name: 'U1a value outside',
    from: 'import_price_per_kwh: 0.3',
    to: 'import_price_per_kwh: {value: 0.5, low: 0.2, high: 0.4}',
    message: [
      'roof.yaml:5:41  site.energy_value.import_price_per_kwh.value',
      '  value (0.5) must lie between low (0.2) and high (0.4)',
    ],
  },
  {
    name: 'U1a bound missing',
    from: 'import_price_per_kwh: 0.3',
    to: 'import_price_per_kwh: {low: 0.2}',
    message: [
      'roof.yaml:5:18  site.energy_value.import_price_per_kwh.high',
      '  missing; needed: a number from 0 to 1,000 a kWh',
    ],
  },
  {
    name: 'U1a range where none is taken',
    from: 'upfront_cost: 6900',
    to: 'upfront_cost: {low: 6000, high: 7000}',
    message: [
      'roof.yaml:10:5  options.0.upfront_cost',
      '  found a range; this key takes no range: an amount of money from 0 to 1,000,000,000',
    ],
  },
  {
    name: 'U1a range of a share where none is taken',
    from: 'years: 10, labour_years: 2',
    to: 'years: 10, labour_years: 2, parts: {low: 50%, high: 80%}',
    message: [
      'roof.yaml:15:48  options.0.components.0.warranty.parts',
      '  found a range; this key takes no range: a share from 0% to 100%, written like 12% or 0.12',
    ],
  },
  {
    name: 'U1a bound of a share at 0 %',
    from: 'years: 10, labour_years: 2',
    to: 'years: 10, labour_years: 2, claim_success: {low: 0%, high: 90%}',
    message: [
      'roof.yaml:15:64  options.0.components.0.warranty.claim_success.low',
      '  found 0 %; a bound of a range of shares must lie between; write 1 % or 99 %',
    ],
  },
  {
    name: 'U1a bound of a share at 100 %',
    from: 'years: 10, labour_years: 2',
    to: 'years: 10, labour_years: 2, claim_success: {low: 60%, high: 100%}',
    message: [
      'roof.yaml:15:74  options.0.components.0.warranty.claim_success.high',
      '  found 100 %; a bound of a range of shares must lie between; write 1 % or 99 %',
    ],
  },
  {
    name: 'U1a bound of a price at 0',
    from: 'parts: 900',
    to: 'parts: {low: 0, high: 900}',
    message: [
      'roof.yaml:14:31  options.0.components.0.replacement.parts.low',
      '  found 0; a bound of a range must be above 0; write a small number',
    ],
  },
  {
    name: 'U1a name kept by the program',
    from: 'parts: 900',
    to: 'parts: {low: 500, high: 900, name: tier_effect}',
    message: [
      'roof.yaml:14:52  options.0.components.0.replacement.parts.name',
      '  the name "tier_effect" is one the program uses itself; choose another',
    ],
  },
]
