import { InputError } from '../../errors.ts'
import type { DateOrder } from '../../fitting/register/written-day.ts'
import { sumOf } from '../../numerics/sum.ts'
import type { ColumnPlan, SiteColumn } from './columns.ts'
import type { FleetSource } from './fleet-file.ts'
import { RoofOptions } from './roof-options.ts'
import { ageOf, type DateRules, givenUp, writtenDay } from './site-age.ts'
import { streamSites } from './site-stream.ts'

/** What the table says of ages as a whole (F7a); plain data for workers. */
export interface KnownAges {
  /** How dates are read; null where there are none. */
  readonly dates: DateRules | null
  /** Age of a unit whose own is not known, years, by `ageKey`. */
  readonly instead: ReadonlyMap<string, number>
  /** Sites whose age is not known. */
  readonly blanks: number
  /** The age assumed for them, in words. */
  readonly takenAs: string
}

type TableSource = FleetSource & { form: 'table' }

/** Lines that a refusal names. */
const MOST_LINES = 5

/**
 * Key of an unknown age.
 *
 * @param option - on the roof
 * @param column - place among the columns
 */
export function ageKey(option: string, column: number): string {
  return JSON.stringify([option, column])
}

/**
 * Reads the ages of a table once (F7a): how many are not known, and the median of those that are, option by option.
 *
 * @param source - the fleet
 * @param plan - columns in use; null for a folder
 * @throws InputError where dates have no start, or ages are not known and must be
 */
export async function lookAtAges(source: FleetSource, plan: ColumnPlan | null): Promise<KnownAges> {
  const none = { dates: null, instead: new Map<string, number>(), blanks: 0, takenAs: '' }
  if (source.form === 'folder' || plan === null) return none
  const columns = plan.columns.flatMap((column, at) => (isAge(column) ? [{ column, at }] : []))
  const dates = await dateRules(source, plan)
  if (columns.length === 0) return { ...none, dates }
  const roofs = new RoofOptions(source.template, source.option)
  const counts = new Map<string, Map<number, number>>()
  const blankLines: (number | null)[] = []
  let blanks = 0
  for await (const { cells, line } of streamSites(source, plan)) {
    const chosen = optionOn(roofs, plan.columns, cells ?? [])
    if (!('name' in chosen) || givenUp(plan.columns, cells ?? [], dates) !== null) continue
    let blank = false
    for (const { column, at } of columns) {
      const age = ageOf(column, cells?.[at] ?? '', dates)
      if (age === null) blank = true
      if (typeof age === 'number') countAge(counts, ageKey(chosen.name, at), age)
    }
    if (!blank) continue
    blanks++
    if (blankLines.length < MOST_LINES) blankLines.push(line)
  }
  if (blanks > 0 && source.ageUnknown === 'refuse') throw refusal(source, columns, blanks, blankLines)
  const asOthers = source.ageUnknown === 'as-the-others'
  return {
    dates,
    instead: asOthers ? new Map([...counts].map(([key, ages]) => [key, medianOf(ages)])) : new Map(),
    blanks,
    takenAs: asOthers ? 'as old as the others with their option (the median)' : 'new',
  }
}

/**
 * The option on the roof of a site.
 *
 * @param roofs - options of the template
 * @param columns - in use
 * @param cells - of the site, in their order
 */
export function optionOn(
  roofs: RoofOptions,
  columns: readonly SiteColumn[],
  cells: readonly string[],
): ReturnType<RoofOptions['choose']> {
  const at = columns.findIndex(({ says }) => says === 'option' || says === 'topology')
  const says = columns[at]?.says === 'topology' ? 'topology' : 'option'
  return roofs.choose(says, at < 0 ? '' : (cells[at] ?? ''))
}

/** Whether a column says how old units are. */
export function isAge({ says }: SiteColumn): boolean {
  return says === 'age' || says === 'date'
}

/** The start, and the order of day and month: as the fleet file says, else as the dates of the column allow. */
async function dateRules(source: TableSource, plan: ColumnPlan): Promise<DateRules | null> {
  const places = plan.columns.flatMap(({ says }, at) => (says === 'date' || says === 'retired' ? [at] : []))
  const column = plan.columns[places[0] ?? -1]
  if (column === undefined) return null
  const start = startOf(source, column)
  if (source.dateOrder !== null) return { start, order: source.dateOrder }
  const seen: Partial<Record<DateOrder | 'open', { readonly cell: string; readonly line: number | null }>> = {}
  for await (const { cells, line } of streamSites(source, plan)) {
    for (const cell of places.map(at => cells?.[at] ?? '')) {
      const day = writtenDay(cell)
      if (day === null || day.dayMonth === day.monthDay) continue
      if (Number.isNaN(day.monthDay)) seen['day-month'] ??= { cell, line }
      else if (Number.isNaN(day.dayMonth)) seen['month-day'] ??= { cell, line }
      else seen.open ??= { cell, line }
    }
  }
  const { 'day-month': dayFirst, 'month-day': monthFirst, open } = seen
  if (monthFirst === undefined && (dayFirst !== undefined || open === undefined)) return { start, order: 'day-month' }
  if (dayFirst === undefined && monthFirst !== undefined) return { start, order: 'month-day' }
  const message =
    dayFirst !== undefined && monthFirst !== undefined
      ? `"${dayFirst.cell}" (line ${dayFirst.line}) has the day first, "${monthFirst.cell}" (line ${monthFirst.line}) the month`
      : `"${open?.cell}" may be day-month or month-day, and no date of the column decides it`
  const line = open?.line ?? dayFirst?.line ?? null
  const advice = 'set  date_order: day-month  or  month-day  in the fleet file'
  throw new InputError([
    { file: source.sites, line, column: null, key: column.column, message: `${message}; ${advice}` },
  ])
}

function startOf(source: TableSource, { column }: SiteColumn): string {
  const template = source.template.value
  const start: unknown =
    typeof template === 'object' && template !== null && 'start' in template ? template.start : null
  if (typeof start === 'string' && /^\d{4}-(0[1-9]|1[0-2])$/.test(start)) return start
  const message = `the column "${column}" is counted to a start; add  start: 2027-03  (the month you plan from) to this file or to the template`
  throw new InputError([{ file: source.file, line: null, column: null, key: 'start', message }])
}

/** Ages by thousandths of a year; ours: a third of a day, and at most 100,000 entries. */
function countAge(counts: Map<string, Map<number, number>>, key: string, age: number): void {
  const ages = counts.get(key) ?? new Map<number, number>()
  counts.set(key, ages)
  const rounded = Math.round(age * 1000)
  ages.set(rounded, (ages.get(rounded) ?? 0) + 1)
}

/** The lower median. */
function medianOf(ages: ReadonlyMap<number, number>): number {
  const all = sumOf([...ages.values()])
  let seen = 0
  for (const [age, count] of [...ages].sort(([a], [b]) => a - b)) {
    seen += count
    if (2 * seen >= all) return age / 1000
  }
  return 0
}

function refusal(
  source: TableSource,
  columns: readonly { readonly column: SiteColumn }[],
  blanks: number,
  lines: readonly (number | null)[],
): InputError {
  const names = columns.map(({ column }) => `"${column.column}"`).join(' or ')
  const more = blanks > lines.length ? ', …' : ''
  const sites = blanks === 1 ? '1 site has' : `${blanks} sites have`
  const message = `${sites} nothing in ${names} (lines ${lines.join(', ')}${more}); fill in the ages, or set  age_unknown: as-the-others  or  new  in the fleet file`
  return new InputError([{ file: source.sites, line: lines[0] ?? null, column: null, key: '', message }])
}
