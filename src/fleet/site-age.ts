import { dayNumber } from '../fitting/records/dates.ts'
import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../units.ts'
import type { SiteColumn } from './columns.ts'

/** Words that say 'not known' in exported tables. Ours. */
const BLANKS: ReadonlySet<string> = new Set(['', '-', '–', '—', '?', 'n/a', 'na', 'none', 'null', 'unknown'])

/** Oldest unit, years; that of `age_years` in a scenario. */
const MOST_YEARS = 100

/**
 * How old the units of a site are at the start, by one cell (F7a).
 *
 * @param column - an age or a date of installation
 * @param cell - trimmed
 * @param start - month of the start, such as 2027-03; the age is counted to its first day. null: a date gives no age
 * @returns years; null where the cell does not say; a message where it cannot be read
 */
export function ageOf({ says }: SiteColumn, cell: string, start: string | null): number | null | string {
  if (BLANKS.has(cell.toLowerCase())) return null
  if (says === 'date') return ageOfDate(cell, start)
  const years = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(cell) ? Number(cell) : Number.NaN
  if (years >= 0 && years <= MOST_YEARS) return years
  const found = Number.isNaN(years) ? JSON.stringify(cell.slice(0, 50)) : cell
  return `found ${found}; allowed: a number from 0 to ${MOST_YEARS} years`
}

function ageOfDate(cell: string, start: string | null): number | string {
  const installed = dayOf(cell)
  if (installed === null)
    return `found ${JSON.stringify(cell.slice(0, 50))}; allowed: a date like 2016-05-30, a month like 2016-05, or a year`
  const from = start === null ? null : dayNumber(`${start}-01`)
  if (from === null) throw new RangeError('a date needs a start')
  const years = (from - installed) / DAYS_PER_YEAR
  if (years > MOST_YEARS) return `${cell} is more than ${MOST_YEARS} years before the start, ${start}`
  if (years <= -1 / MONTHS_PER_YEAR) return `${cell} is after the start, ${start}: the unit is not there yet`
  return Math.max(years, 0)
}

/** Days since 1970-01-01; a month or a year alone is taken in its middle. */
function dayOf(cell: string): number | null {
  const month = /^(\d{4})-(\d{2})$/.exec(cell)
  if (month !== null) return dayNumber(`${cell}-15`)
  return /^\d{4}$/.test(cell) ? dayNumber(`${cell}-07-01`) : dayNumber(cell)
}
