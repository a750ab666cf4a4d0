import { stringify } from 'csv-stringify/sync'
import { dayText } from '../../fitting/records/dates.ts'
import type { UnitInService } from '../../fitting/register/in-service.ts'
import { cellText } from '../../input/cell-text.ts'

/**
 * in-service.csv: the units in service at the end of the watch, as a table of sites of a fleet (F7a).
 *
 * @param units - in the order of the register
 * @returns CSV with the columns id, model (where units have one), count (where places have several) and install_date,
 *   empty where it is not known
 */
export function inServiceCsv(units: readonly UnitInService[]): string {
  const grouped = units.some(({ group }) => group !== '')
  const counted = units.some(({ count }) => count > 1)
  const rows = units.map(({ id, group, count, since }) => [
    cellText(id),
    ...(grouped ? [cellText(group)] : []),
    ...(counted ? [String(count)] : []),
    since === null ? '' : dayText(since),
  ])
  return stringify([['id', ...(grouped ? ['model'] : []), ...(counted ? ['count'] : []), 'install_date'], ...rows])
}
