import { dayNumber } from '../../fitting/records/dates.ts'
import { type DateOrder, dayIn, readWrittenDay, type WrittenDay } from '../../fitting/register/written-day.ts'
import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../../units.ts'
import { plainFigure, type SiteColumn } from './columns.ts'

/** Words that say 'not known' in exported tables. Ours. */
const BLANKS: ReadonlySet<string> = new Set([
  ...['', '-', '–', '—', '?', 'n/a', 'na', 'none', 'null', 'unknown', '9999-12-31'],
])

/** Oldest unit, years; that of `age_years` in a scenario. */
const MOST_YEARS = 100

/** How dates of installation are read. */
export interface DateRules {
  /** Month of the start, such as 2027-03; the age is counted to its first day. */
  readonly start: string
  /** Which of day and month comes first where both could. */
  readonly order: DateOrder
}

/**
 * How old the units of a site are at the start, by one cell (F7a).
 *
 * @param column - an age or a date of installation
 * @param cell - trimmed
 * @param rules - of dates; null: no column has them
 * @returns years; null where the cell does not say; a message where it cannot be read
 */
export function ageOf({ says, decimal }: SiteColumn, cell: string, rules: DateRules | null): number | null | string {
  if (BLANKS.has(cell.toLowerCase())) return null
  if (says === 'date') return ageOfDate(cell, rules)
  const figure = plainFigure(cell, decimal)
  const years = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(figure) ? Number(figure) : Number.NaN
  if (years >= 0 && years <= MOST_YEARS) return years
  const found = Number.isNaN(years) ? JSON.stringify(cell.slice(0, 50)) : cell
  return `found ${found}; allowed: a number from 0 to ${MOST_YEARS} years`
}

/**
 * Whether a site is retired by the start and so has no future to plan for (F7a).
 *
 * @param columns - in use
 * @param cells - of the site, in their order
 * @param rules - of dates; null: no column has them
 * @returns why the site is left out; null where it stays in service
 */
export function givenUp(
  columns: readonly SiteColumn[],
  cells: readonly string[],
  rules: DateRules | null,
): string | null {
  const at = columns.findIndex(({ says }) => says === 'retired')
  const cell = cells[at] ?? ''
  if (at < 0 || BLANKS.has(cell.toLowerCase())) return null
  const years = yearsBeforeStart(cell, rules)
  if (typeof years === 'string') return `${columns[at]?.column}: ${years}`
  return years >= 0 ? `retired on ${cell}, before the start, ${rules?.start}` : null
}

function ageOfDate(cell: string, rules: DateRules | null): number | string {
  const years = yearsBeforeStart(cell, rules)
  if (typeof years === 'string') return years
  const start = rules?.start
  if (years > MOST_YEARS) return `${cell} is more than ${MOST_YEARS} years before the start, ${start}`
  if (years <= -1 / MONTHS_PER_YEAR) return `${cell} is after the start, ${start}: the unit is not installed yet`
  return Math.max(years, 0)
}

/** Years from a date to the start, below 0 after it; a message where it cannot be read. */
function yearsBeforeStart(cell: string, rules: DateRules | null): number | string {
  if (rules === null) throw new RangeError('a date needs a start')
  const { start, order } = rules
  const written = writtenDay(cell)
  const day = written === null ? Number.NaN : dayIn(written, order)
  if (Number.isNaN(day))
    return `found ${JSON.stringify(cell.slice(0, 50))}; allowed: a date like 2016-05-30, or in the order of the column (${order}); a month like 2016-05; or a year`
  const from = dayNumber(`${start}-01`)
  if (from === null) throw new RangeError(`${start} is no month`)
  return (from - day) / DAYS_PER_YEAR
}

/**
 * A date of installation under both orders of day and month; a month or a year alone is taken in its middle.
 *
 * @param cell - trimmed
 * @returns null where it is no date
 */
export function writtenDay(cell: string): WrittenDay | null {
  const middle = /^\d{4}-\d{2}$/.test(cell) ? `${cell}-15` : /^\d{4}$/.test(cell) ? `${cell}-07-01` : cell
  return readWrittenDay(middle)
}
