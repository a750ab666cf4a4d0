import type { Figure, FigureKnown } from './figure.ts'
import type { SourceKey } from './sources.ts'

/** Figures that hold for every kind, and defaults that are choices of this program (design section 12). */
export const COMMON_FIGURES: readonly Figure[] = [
  figure('horizon_years', [25], 'years', 'choice', 'judgement', 'The usual period of a panel warranty.'),
  figure(
    'discount_rate',
    [0.03],
    'share per year',
    'choice',
    'judgement',
    'Real rate of a household between saving and mortgage.',
  ),
  figure(
    'replacement.parts_growth',
    [-0.02, -0.05, 0.01],
    'share per year',
    'judgement',
    'judgement',
    'Hardware prices still fall, more slowly than they did.',
  ),
  figure(
    'visit.labour_growth',
    [0.005],
    'share per year',
    'judgement',
    'judgement',
    'Labour rises a little faster than prices.',
  ),
  figure(
    'site.generation.degradation',
    [0.007, 0.004, 0.012],
    'share per year',
    'jordan2022',
    'published',
    'Performance loss of 1,700 US sites, inverter outages apart.',
  ),
  figure(
    'site.energy_value.self_consumed',
    [0.3, 0.2, 0.4],
    'share',
    'practice',
    'judgement',
    'A home that nets its yearly use, without battery.',
  ),
  figure(
    'site.energy_value.price_growth',
    [0],
    'share per year',
    'choice',
    'judgement',
    'Energy prices move with all others.',
  ),
  figure(
    'site.energy_value.export_price_growth',
    [0],
    'share per year',
    'choice',
    'judgement',
    'Energy prices move with all others.',
  ),
  figure(
    'site.network.max_dc_ac_ratio',
    [1.33],
    '',
    'oversizingRule',
    'published',
    'A common limit of panel to inverter power.',
  ),
  figure(
    'ac_kw_per_panel',
    [0.33],
    'kW',
    'judgement',
    'judgement',
    'A panel of 0.4 kW, and 1.2 kW of panels to 1 kW of inverter; used where no rating is told.',
  ),
  figure(
    'labour_provider.exit_rate_per_year',
    [0.06, 0.05, 0.08],
    'share per year',
    'judgement',
    'judgement',
    'Installers close more often than makers.',
  ),
  {
    ...figure(
      'takes_string_down',
      [0.05, 0.01, 0.2],
      'share',
      'judgement',
      'judgement',
      'One field anecdote; the share is judged.',
    ),
    row: 'optimiser',
  },
]

function figure(
  key: string,
  [value, low, high]: readonly [number, number?, number?],
  unit: string,
  source: SourceKey,
  known: FigureKnown,
  remark: string,
): Figure {
  return { row: 'common', key, value, low: low ?? null, high: high ?? null, unit, source, known, remark }
}
