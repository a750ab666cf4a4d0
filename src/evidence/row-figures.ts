import type { EvidenceFigure } from './figure.ts'
import type { RowFigures } from './row.ts'
import { EVIDENCE_ROWS, type EvidenceRowKey, ROWS } from './rows.ts'
import { derived, judged, type Stated } from './stated.ts'

/** p90 of the response over its median. */
const RESPOND_P90_OVER_MEDIAN = 5

/** The figures of all rows, each by the key that it fills (M4, O1, W1-W5). */
export const ROW_FIGURES: readonly EvidenceFigure[] = EVIDENCE_ROWS.flatMap(row => figuresOf(row, ROWS[row]))

/**
 * The figures of one row, each by the key that it fills.
 *
 * @param row - its name
 * @param figures - what it says
 */
export function figuresOf(row: EvidenceRowKey, figures: RowFigures): EvidenceFigure[] {
  const figure = (key: string, unit: string, stated: Stated): EvidenceFigure => ({ row, key, unit, ...stated })
  const said = (key: string, phrase: string, unit: string, stated: Stated): EvidenceFigure => ({
    row,
    key,
    unit,
    phrase,
    ...stated,
  })
  const { wearOut, spread, parts, labourEachFurther } = figures
  const { unit, ...partsPrice } = parts
  return [
    said('failure.early.susceptible', 'share of early failures', 'share', figures.early),
    said('failure.chance.rate_per_year', 'rate of chance failures', 'share per year', figures.chance),
    ...(wearOut === null
      ? []
      : [
          said('failure.wear_out.shape', 'how sharply wear-out sets in (shape)', '', wearOut.shape),
          said('failure.wear_out.life_years', 'wear-out life', 'years', wearOut.life),
          said(
            'failure.anchor.age_years',
            'age at which a failed share is known',
            'years',
            judged(wearOut.anchorAgeYears, 'Age at which the share failed is known.', 'choice'),
          ),
          said('failure.anchor.share', 'share failed by a known age', 'share', wearOut.anchorShare),
        ]),
    ...(spread === null ? [] : [figure('failure.model_spread', '', spread)]),
    ...noticed(figures.noticed).map(([key, days, remark]) =>
      figure(`downtime.${key}`, 'days', judged(days, remark, 'consumerDetection')),
    ),
    figure(
      'downtime.respond_days.median',
      'days',
      judged(figures.respondMedianDays, 'From detection to the visit, outside warranty.'),
    ),
    figure(
      'downtime.respond_days.p90',
      'days',
      derived(
        RESPOND_P90_OVER_MEDIAN * figures.respondMedianDays,
        'maintenanceTickets',
        '5 times the median: tickets that name a replacement give 9, two weeks typical and four months at worst give 3; with 5 a failure is down for the 33 days (19 to 57) that Haeberlin, Renken (2003) give per defect',
        'About two weeks typical, months at worst.',
      ),
    ),
    figure('downtime.repair_days', 'days', judged(0.2, 'The swap itself takes a few hours.')),
    figure(
      'downtime.claim_days',
      'days',
      judged(figures.claimDays, 'What waiting for the maker adds: a difference of medians.', 'choice'),
    ),
    figure('warranty.years', 'years', figures.coverYears),
    figure('warranty.labour_years', 'years', figures.labourYears),
    figure('warranty.claim_success', 'share', judged(figures.claimSuccess, 'Claims granted while the maker exists.')),
    figure('warranty_provider.exit_rate_per_year', 'share per year', figures.exit),
    figure('replacement.parts', unit, partsPrice),
    figure('replacement.labour', 'USD', figures.labour),
    ...(labourEachFurther === null
      ? []
      : [
          figure(
            'replacement.labour_each_further',
            'USD',
            judged(labourEachFurther, 'Half an hour for each further unit of a visit.'),
          ),
        ]),
  ]
}

function noticed(by: RowFigures['noticed']): (readonly [key: string, days: number, remark: string])[] {
  if ('byOwner' in by) return [['detect_days', by.byOwner, 'The app shows no data; the owner does not act at once.']]
  const hidden = by.unmonitored[0] > 100
  const p90 = 'Upper end of the range, read as a p90 by choice of this program.'
  return [
    ['detect_days.median', by.monitored[0], 'Noticed within days where monitoring works.'],
    ['detect_days.p90', by.monitored[1], p90],
    [
      'detect_days_unmonitored.median',
      by.unmonitored[0],
      hidden ? 'The loss of one failed unit is within what the weather varies.' : 'Half a billing quarter.',
    ],
    ['detect_days_unmonitored.p90', by.unmonitored[1], p90],
  ]
}
