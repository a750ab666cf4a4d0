import type { EvidenceRowKey, Figure, FigureKnown } from './figure.ts'
import type { SourceKey } from './sources.ts'

/** Range of hardware prices around their middle, from trade pages: 0.12 to 0.25 around 0.18 a watt. */
const PARTS_RANGE = { low: 0.67, high: 1.39 }

/**
 * Typical prices in the currency of the evidence; they enter a scenario only with `prices_from_evidence`
 * (design section 4), else they stand in the message that asks for the price.
 */
export const PRICE_FIGURES: readonly Figure[] = [
  perKw('string-inverter budget', 140, 'judgement', 'judgement', 'Low end of prices seen.'),
  perKw('string-inverter plain', 180, 'tradePrices', 'published', 'Hardware of home inverters.'),
  perKw('string-inverter robust', 240, 'tradePrices', 'published', 'Top of prices seen.'),
  perKw('hybrid-inverter', 300, 'judgement', 'judgement', 'Dearer than a string inverter.'),
  price('panel-level-unit', 'replacement.parts', [160, 110, 300], 'tradePrices', 'published', 'One unit.'),
  price('optimiser', 'replacement.parts', [60], 'judgement', 'judgement', 'One unit.'),
  price('gateway', 'replacement.parts', [250], 'judgement', 'judgement', 'One unit.'),
  ...(['budget', 'plain', 'robust'] as const).map(tier =>
    price(
      `string-inverter ${tier}`,
      'replacement.labour',
      [300, 200, 500],
      'consumerPrices',
      'published',
      'Three hours (two to five) at 100.',
    ),
  ),
  price('hybrid-inverter', 'replacement.labour', [500], 'judgement', 'judgement', 'Five hours at 100.'),
  price('panel-level-unit', 'replacement.labour', [100], 'judgement', 'judgement', 'One hour for the first unit.'),
  price('optimiser', 'replacement.labour', [100], 'judgement', 'judgement', 'One hour for the first unit.'),
  price('gateway', 'replacement.labour', [100], 'judgement', 'judgement', 'One hour.'),
  price(
    'panel-level-unit',
    'replacement.labour_each_further',
    [50],
    'judgement',
    'judgement',
    'Half an hour for each further unit of a visit.',
  ),
  price(
    'optimiser',
    'replacement.labour_each_further',
    [50],
    'judgement',
    'judgement',
    'Half an hour for each further unit of a visit.',
  ),
  price('common', 'visit.call_out', [200], 'consumerPrices', 'published', '100 to 300 seen.'),
  price(
    'common',
    'visit.roof_access',
    [100],
    'choice',
    'judgement',
    'The difference of minimum fees for roof and wall, rounded up.',
  ),
]

function perKw(row: EvidenceRowKey, value: number, source: SourceKey, known: FigureKnown, remark: string): Figure {
  const range = [value, value * PARTS_RANGE.low, value * PARTS_RANGE.high] as const
  return { ...price(row, 'replacement.parts', range, source, known, remark), unit: 'USD/kW' }
}

function price(
  row: EvidenceRowKey | 'common',
  key: string,
  [value, low, high]: readonly [number, number?, number?],
  source: SourceKey,
  known: FigureKnown,
  remark: string,
): Figure {
  return { row, key, value, low: low ?? null, high: high ?? null, unit: 'USD', source, known, remark }
}
