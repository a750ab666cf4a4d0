import type { EvidenceFigure } from './figure.ts'
import { derived, type FigurePoints, judged, published, type Stated } from './stated.ts'

const ENERGY_PRICE = 'Energy prices move with all others.'

/** Figures that hold for every kind, and defaults that are choices of this program. */
export const COMMON_FIGURES: readonly EvidenceFigure[] = [
  {
    ...figure('failure.early.shape', '', early(0.7, 'Falling hazard: defects show in weeks to months.')),
    phrase: 'how fast early faults fade (shape)',
  },
  {
    ...figure('failure.early.life_years', 'years', early(1, 'Time scale of early defects.')),
    phrase: 'life of units with an early fault',
  },
  figure('failure.model_spread', '', judged(0.5, 'Spread between product models (coefficient of variation).')),
  figure('failure.bad_batch.chance', 'share', judged([0.04, 0.01, 0.1], 'Product models with a serial defect.')),
  figure('failure.bad_batch.affects', 'share', judged([0.4, 0.2, 0.9], 'Units of a bad batch that carry the defect.')),
  figure('failure.bad_batch.life_times', '', judged(0.35, 'Life of a unit hit, as a multiple of the ordinary one.')),
  figure('horizon_years', 'years', judged(25, 'The usual period of a panel warranty.', 'choice')),
  figure(
    'discount_rate',
    'share per year',
    judged(0.03, 'Real rate of a household between saving and mortgage.', 'choice'),
  ),
  figure(
    'replacement.parts_growth',
    'share per year',
    judged([-0.02, -0.05, 0.01], 'Hardware prices still fall, more slowly than they did.'),
  ),
  figure('visit.labour_growth', 'share per year', judged(0.005, 'Labour rises a little faster than prices.')),
  figure(
    'visit.call_out',
    'USD',
    published([200, 140, 300], 'consumerPrices', '100 to 300 seen; 200 to 300 in the trade press.'),
  ),
  figure(
    'visit.roof_access',
    'USD',
    judged([100, 40, 300], 'The difference of minimum fees for roof and wall, rounded up.', 'choice'),
  ),
  figure(
    'site.generation.degradation',
    'share per year',
    published([0.007, 0.004, 0.012], 'jordan2022', 'Performance loss of 1,700 US sites, inverter outages apart.'),
  ),
  figure(
    'site.energy_value.self_consumed',
    'share',
    judged([0.3, 0.2, 0.4], 'A home that nets its yearly use, without battery.', 'practice'),
  ),
  figure('site.energy_value.price_growth', 'share per year', judged(0, ENERGY_PRICE, 'choice')),
  figure('site.energy_value.export_price_growth', 'share per year', judged(0, ENERGY_PRICE, 'choice')),
  figure(
    'site.network.max_dc_ac_ratio',
    '',
    published(1.33, 'oversizingRule', 'A common limit of panel to inverter power.'),
  ),
  {
    ...figure(
      'ac_kw_per_panel',
      'kW',
      judged(0.33, 'A panel of 0.4 kW, and 1.2 kW of panels to 1 kW of inverter; used where no rating is given.'),
    ),
    phrase: 'power of an inverter for one panel',
  },
  ...(
    [
      ['string', 0.972],
      ['hybrid', 0.957],
      ['panel-level', 0.958],
    ] as const
  ).map(([curve, value]) => ({
    ...figure(
      `weighted_efficiency.${curve}`,
      'share',
      judged(value, 'Data sheets of one kind differ by a point or two; give weighted_efficiency where a quote has it.'),
    ),
    phrase: 'European weighted efficiency',
  })),
  figure(
    'labour_provider.exit_rate_per_year',
    'share per year',
    derived(
      [0.07, 0.05, 0.12],
      'firmSurvival',
      'establishments in construction close at 5.9 % a year at age 5 to 10, at 9.1 % from the first day on',
      'Installers close more often than makers.',
    ),
  ),
  {
    ...figure('takes_string_down', 'share', judged([0.05, 0.01, 0.2], 'One field anecdote; the share is judged.')),
    row: 'optimiser',
  },
]

function early(value: FigurePoints, remark: string): Stated {
  return derived(
    value,
    'maintenanceTickets',
    'tickets of the same plants by age against those of year 2: 1.91 in the first quarter, 1.17 in the second, 1.22 in the second half-year; this form gives 1.91, 1.33 and 1.14',
    remark,
  )
}

function figure(key: string, unit: string, stated: Stated): EvidenceFigure {
  return { row: 'common', key, unit, ...stated }
}
