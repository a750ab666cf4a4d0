import type { EvidenceRowKey, Figure, FigureKnown } from './figure.ts'
import type { SourceKey } from './sources.ts'

const EARLY_REMARK =
  'A small share fails early: fleet reports fell markedly after year 1. The range p/4 to 3p is a choice of this program.'

const CHANCE_REMARK: Partial<Record<EvidenceRowKey, string>> = {
  'string-inverter plain': 'Below the 2.8 % a year that the published 34.3 % by year 15 would give by chance alone.',
  'panel-level-unit': 'Just under the makers’ own claim of one in 300 unit-years; no independent field rate was found.',
  optimiser: 'No independent field rate was found.',
}

const LIFE_REMARK: Partial<Record<EvidenceRowKey, string>> = {
  'string-inverter plain': 'Solved so that 34.3 % have failed by year 15; used as a range only with model_spread 0.',
  'panel-level-unit':
    'Set to respect the bound of Afridi and others (2023): at most 26 % failed at 24 years; a bound, no estimate.',
}

/**
 * Failure by row: early, chance and wear-out mode and the anchor that fixes the wear-out life (M4, U1b; design
 * section 12). Ranges are 10 % and 90 % points.
 */
export const FAILURE_FIGURES: readonly Figure[] = [
  ...rowFigures('string-inverter budget', 0.03, [0.02, 0.01, 0.04], [3.5, 2, 5], [19.5, 14, 24], [15, 0.518]),
  ...rowFigures('string-inverter plain', 0.02, [0.013, 0.005, 0.03], [3.5, 2, 5], [23.6, 19, 30], [15, 0.343]),
  ...rowFigures('string-inverter robust', 0.01, [0.009, 0.004, 0.02], [3.5, 2, 5], [27, 22, 36], [15, 0.239]),
  ...rowFigures('hybrid-inverter', 0.03, [0.02, 0.01, 0.04], [3.5, 2, 5], [21, 15, 26], [15, 0.472]),
  ...rowFigures('panel-level-unit', 0.005, [0.0025, 0.0005, 0.01], [4, 2, 6], [36, 22, 48], [24, 0.231]),
  ...rowFigures('optimiser', 0.005, [0.003, 0.001, 0.012], [4, 2, 6], [34, 20, 45], [24, 0.278]),
  ...rowFigures('gateway', 0.02, [0.04, 0.02, 0.08], [3, 2, 4], [15, 8, 20], [10, 0.512]),
  common('failure.early.shape', 0.7, null, null, '', 'Falling hazard: defects show in weeks to months.'),
  common('failure.early.life_years', 1, null, null, 'years', 'Time scale of early defects.'),
  common('failure.model_spread', 0.5, null, null, '', 'Spread between product models (coefficient of variation).'),
  common('failure.bad_batch.chance', 0.04, 0.01, 0.1, 'share', 'Product models with a serial defect.'),
  common('failure.bad_batch.affects', 0.4, 0.2, 0.9, 'share', 'Units of a bad batch that carry the defect.'),
  common(
    'failure.bad_batch.life_times',
    0.35,
    null,
    null,
    '',
    'Life of a unit hit, as a multiple of the ordinary one.',
  ),
]

type Triple = readonly [value: number, low: number, high: number]

function rowFigures(
  row: EvidenceRowKey,
  early: number,
  chance: Triple,
  shape: Triple,
  life: Triple,
  [anchorAge, anchorShare]: readonly [number, number],
): Figure[] {
  const anchored = row === 'string-inverter plain'
  const figure = (
    key: string,
    [value, low, high]: readonly [number, number | null, number | null],
    unit: string,
    remark: string,
    source: SourceKey = 'judgement',
    known: FigureKnown = 'judgement',
  ): Figure => ({ row, key, value, low, high, unit, source, known, remark })
  return [
    figure('failure.early.susceptible', [early, early / 4, early * 3], 'share', EARLY_REMARK),
    figure('failure.chance.rate_per_year', chance, 'share per year', CHANCE_REMARK[row] ?? 'Failures by chance.'),
    figure('failure.wear_out.shape', shape, '', 'One published point cannot fix the shape; hence the wide range.'),
    figure(
      'failure.wear_out.life_years',
      life,
      'years',
      LIFE_REMARK[row] ?? 'Set by judgement; used with model_spread 0.',
    ),
    figure('failure.anchor.age_years', [anchorAge, null, null], 'years', 'Age at which the share failed is held.'),
    anchored
      ? figure(
          'failure.anchor.share',
          [anchorShare, null, null],
          'share',
          'First failures by year 15 of 1,195 home systems in Switzerland.',
          'bucher2022',
          'published',
        )
      : figure(
          'failure.anchor.share',
          [anchorShare, null, null],
          'share',
          'Follows from the middle values of this row.',
        ),
  ]
}

function common(
  key: string,
  value: number,
  low: number | null,
  high: number | null,
  unit: string,
  remark: string,
): Figure {
  return { row: 'common', key, value, low, high, unit, source: 'judgement', known: 'judgement', remark }
}
