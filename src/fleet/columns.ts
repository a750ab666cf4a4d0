/**
 * Which column of a table of sites stands for which key of the template (design section 9).
 */
import { nearest } from '../input/problems.ts'
import { isBlock } from './fleet-file.ts'

/** Columns known by name; a path that begins with `option.` lies in the option that stands on the roofs. */
const KNOWN: ReadonlyMap<string, string> = new Map([
  ['age_years', 'option.components.0.age_years'],
  ['ac_kw', 'option.components.0.ac_kw'],
  ['count', 'option.components.0.count'],
  ['model', 'option.components.0.model'],
  ['tier', 'option.components.0.tier'],
  ['provider', 'option.warranty_provider.name'],
  ['installer', 'option.labour_provider.name'],
  ['warranty_years', 'option.components.0.warranty.years'],
  ['labour_years', 'option.components.0.warranty.labour_years'],
  ['parts', 'option.components.0.replacement.parts'],
  ['labour', 'option.components.0.replacement.labour'],
  ['annual_kwh', 'site.generation.annual_kwh'],
  ['panels', 'site.panels'],
  ['call_out', 'visit.call_out'],
])

/** Keys that hold for the whole fleet: sums over sites need them alike. */
const FLEET_WIDE = ['horizon_years', 'currency', 'start', 'reserve', 'title', 'options', 'residual_value'] as const

/** A column and the key it fills; keys of the option begin with `options`, `0`. */
export interface SiteColumn {
  readonly column: string
  /** In the template with the one option left. */
  readonly path: readonly string[]
  /** Words stay words, even where they look like numbers. */
  readonly isText: boolean
}

/** What a header comes to. */
export interface ColumnPlan {
  readonly columns: readonly SiteColumn[]
  /** Columns that fill nothing. */
  readonly unused: readonly string[]
  /** What is wrong with the header, in words. */
  readonly problems: readonly string[]
}

/**
 * Which columns of a header fill which keys.
 *
 * @param header - names of the columns
 * @param mapped - `columns` of the fleet file: column to key, or to null where it is to be passed over
 * @param template - what each site starts from, with the option on the roofs first
 * @returns the plan; with problems it must not be used
 */
export function planColumns(
  header: readonly string[],
  mapped: Readonly<Record<string, string | null>>,
  template: unknown,
): ColumnPlan {
  const columns: SiteColumn[] = []
  const unused: string[] = []
  const problems: string[] = []
  for (const column of Object.keys(mapped))
    if (!header.includes(column)) problems.push(`"columns" names "${column}", but the table has no such column`)
  if (!header.includes('id')) problems.push('the table has no column "id"; each site needs a name of its own')
  for (const column of header) {
    if (column === 'id') continue
    const told = Object.hasOwn(mapped, column) ? mapped[column] : undefined
    const key = told === undefined ? (KNOWN.get(column) ?? (column.includes('.') ? column : null)) : told
    if (key === null) {
      const meant = told === undefined ? nearest(column, [...KNOWN.keys()]) : null
      if (meant === null) unused.push(column)
      else
        problems.push(
          `unknown column "${column}"; did you mean "${meant}"? If it is not for this program, write  ${column}: null  under "columns"`,
        )
      continue
    }
    const path = pathOf(key)
    const fault = faultOf(column, key, path, columns) ?? lostPlace(column, path, template)
    if (fault !== null) problems.push(fault)
    else columns.push({ column, path, isText: TEXT_KEYS.includes(path.at(-1) ?? '') })
  }
  return { columns, unused, problems }
}

const TEXT_KEYS: readonly string[] = ['name', 'model', 'tier', 'kind', 'replacement_cover']

/** Keys of an option may be written with or without their option. */
const OPTION_KEYS: readonly string[] = [
  'components',
  'warranty_provider',
  'labour_provider',
  'upfront_cost',
  'yearly_cost',
  'monitoring',
  'visit_policy',
  'battery',
  'design_losses',
]

function pathOf(key: string): readonly string[] {
  const parts = key.split('.')
  const [first = '', ...rest] = parts
  if (first === 'option') return ['options', '0', ...rest]
  return OPTION_KEYS.includes(first) ? ['options', '0', ...parts] : parts
}

function faultOf(
  column: string,
  written: string,
  path: readonly string[],
  before: readonly SiteColumn[],
): string | null {
  const key = path.join('.')
  if (path.some(part => ['__proto__', 'constructor', 'prototype'].includes(part)))
    return `column "${column}" cannot stand for "${key}"`
  const numbered = /^options\.\d+\.(.+)$/.exec(written)
  if (numbered !== null)
    return `column "${column}" stands for "${written}"; write "${numbered[1]}": it fills the option that is on the roof`
  const wide = FLEET_WIDE.find(one => path[0] === one && !(one === 'options' && path.length > 2))
  if (wide !== undefined)
    return `column "${column}" stands for "${wide}", which holds for the whole fleet; set it in the template`
  const other = before.find(one => one.path.join('.') === key)
  return other === undefined ? null : `columns "${other.column}" and "${column}" both stand for "${key}"`
}

/** A path as a person writes it: without the option it lies in. */
function keyOf(path: readonly string[]): string {
  return path.slice(path[0] === 'options' ? 2 : 0).join('.')
}

/** What keeps a value from its place: blocks are made on the way, but an entry of a list has to be there. */
function lostPlace(column: string, path: readonly string[], template: unknown): string | null {
  let at: unknown = template
  for (const [depth, part] of path.entries()) {
    if (Array.isArray(at)) {
      if (!/^(0|[1-9]\d*)$/.test(part) || Number(part) >= at.length) {
        const entries = at.length === 1 ? 'one entry, number 0' : `${at.length} entries, numbers 0 to ${at.length - 1}`
        return `column "${column}" stands for "${keyOf(path)}", but "${keyOf(path.slice(0, depth))}" of the template has ${entries}`
      }
      at = at[Number(part)]
    } else if (isBlock(at)) at = Object.hasOwn(at, part) ? at[part] : undefined
    else return null
  }
  return null
}

/**
 * A cell as the scenario would hold it.
 *
 * @param cell - trimmed text, not empty
 * @param isText - whether the key takes words
 * @returns a number where it is written as one, else the text
 * @example cellValue('4.6', false) // 4.6
 */
export function cellValue(cell: string, isText: boolean): string | number | boolean {
  if (isText) return cell
  if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(cell)) return Number(cell)
  if (cell === 'true' || cell === 'false') return cell === 'true'
  return cell
}
