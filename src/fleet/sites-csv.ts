import { stringify } from 'csv-stringify/sync'
import { cellText } from '../input/cell-text.ts'
import type { LeftOut, ReadSite } from './site-reader.ts'
import type { SiteFigures } from './site-recorder.ts'

/** Header of sites.csv (F7). Money in the fleet's currency, energy in kWh. */
export const SITES_HEADER = stringify([
  [
    'id',
    'played',
    'model',
    'provider',
    'age_years',
    'failures_mean',
    'cash_mean',
    'cash_p90',
    'contribution_alone_per_year',
    'lost_kwh_mean',
    'reason_left_out',
  ],
])

/**
 * The line of a site that was played.
 *
 * @param site - as read
 * @param figures - what it came to alone
 */
export function siteLine(site: ReadSite, figures: SiteFigures): string {
  const { siteClass, ages, ticket } = site
  return stringify([
    [
      cellText(ticket.id),
      'yes',
      cellText(siteClass.leadModel),
      cellText(siteClass.option.warrantyProvider.name),
      String(Number((ages[0] ?? 0).toFixed(3))),
      figures.failures.toFixed(3),
      figures.cash.toFixed(2),
      (figures.cash90 / 100).toFixed(2),
      (figures.contribution / 100).toFixed(2),
      figures.lostKwh.toFixed(1),
      '',
    ],
  ])
}

/**
 * The line of a site that was left out (F5).
 *
 * @param site - with the reason
 */
export function leftOutLine({ ticket, reason }: LeftOut): string {
  return stringify([[cellText(ticket.id), 'no', '', '', '', '', '', '', '', '', cellText(reason)]])
}
