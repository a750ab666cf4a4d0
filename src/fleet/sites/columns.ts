/**
 * Which column of a table of sites gives which key of the template (F7a).
 */
import { nearest } from '../../input/problems.ts'
import { isBlock } from './parsed.ts'

/** Columns known by name; a path that begins with `option.` is one of the option on the roof. */
const KNOWN: ReadonlyMap<string, string> = new Map([
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

/** Columns that say something other than the value of one key. */
const SPECIAL = ['age_years', 'install_date', 'option', 'topology', 'retired'] as const
const ALL_KNOWN: readonly string[] = [...KNOWN.keys(), ...SPECIAL]

/** Keys that hold for the whole fleet: sums over sites need them alike. */
const FLEET_WIDE = ['horizon_years', 'currency', 'start', 'reserve', 'title', 'options', 'residual_value'] as const

/** Decimal separator of a figure. */
export type DecimalSign = '.' | ','

/** A column and what it says. */
export interface SiteColumn {
  readonly column: string
  /**
   * value: of one key. age, date: how old the units are. option, topology: which option is on the roof. retired: when
   * the roof was given up.
   */
  readonly says: 'value' | 'age' | 'date' | 'option' | 'topology' | 'retired'
  /** Of a value or an age: the key in the template with one option left; keys of the option begin with `options`, `0`. */
  readonly path: readonly string[]
  /** An age known by name holds for every component that has no other (F7a). */
  readonly ofAll: boolean
  /** Words stay words, even where they look like numbers. */
  readonly isText: boolean
  /** Decimal separator of its figures; a point until the table has been read. */
  readonly decimal: DecimalSign
}

/** How the columns of a header are used. */
export interface ColumnPlan {
  readonly columns: readonly SiteColumn[]
  /** Columns that fill nothing, as the fleet file says they should. */
  readonly ignored: readonly string[]
  /** Header of the column that holds the names of the sites. */
  readonly idColumn: string
  /** What is wrong with the header, in words. */
  readonly problems: readonly string[]
}

/** What the fleet file says of the columns. */
export interface ColumnWishes {
  /** Column to key. */
  readonly columns: Readonly<Record<string, string>>
  /** Columns that fill nothing. */
  readonly ignore: readonly string[]
}

/**
 * What the columns of a header say (F7a). A column that nothing takes is an error unless the fleet file lists it.
 *
 * @param header - names of the columns
 * @param wishes - of the fleet file
 * @param templates - what sites may start from: each option first in one of them
 * @returns the plan; with problems it must not be used
 */
export function planColumns(
  header: readonly string[],
  wishes: ColumnWishes,
  templates: readonly unknown[],
): ColumnPlan {
  const columns: SiteColumn[] = []
  const ignored: string[] = []
  const problems: string[] = []
  for (const [key, names] of [
    ['columns', Object.keys(wishes.columns)],
    ['ignore', wishes.ignore],
  ] as const)
    for (const name of names)
      if (!header.includes(name)) problems.push(`"${key}" names "${name}", but the table has no such column`)
  const named = header.find(column => wishes.columns[column] === 'id') ?? header.find(column => column === 'id')
  if (named === undefined) problems.push(noId(header))
  const idColumn = named ?? header[0] ?? 'id'
  const untaken: string[] = []
  for (const column of header) {
    if (column === idColumn) continue
    const mapped = Object.hasOwn(wishes.columns, column) ? wishes.columns[column] : undefined
    if (wishes.ignore.includes(column)) {
      ignored.push(column)
      continue
    }
    const found = columnOf(column, mapped)
    if (found === null) {
      untaken.push(column)
      continue
    }
    const fault = faultOf(found, mapped ?? '', columns) ?? lostEverywhere(found, templates)
    if (fault === null) columns.push(found)
    else problems.push(fault)
  }
  if (untaken.length > 0) problems.push(nothingTakes(untaken))
  return { columns, ignored, idColumn, problems }
}

function noId(header: readonly string[]): string {
  const [first = ''] = header
  return `the table has no column "id"; each site needs a name of its own. If another column has it, write e.g.  columns: {${inYaml(first)}: id}`
}

/** All columns that nothing takes in one line, so that the list can be copied. */
function nothingTakes(columns: readonly string[]): string {
  const each = columns.map(column => {
    const meant = nearest(column, ALL_KNOWN)
    return `"${column}"${meant === null ? '' : `; did you mean "${meant}"?`}`
  })
  const [one, which] = columns.length === 1 ? ['column', 'it fills'] : ['columns', 'each fills']
  const said = each.join(', ')
  return `nothing takes the ${one} ${said}${said.endsWith('?') ? '' : '.'} Write under "columns" which key ${which}, or list ${columns.length === 1 ? 'it' : 'them'} under  ignore: [${columns.map(inYaml).join(', ')}]`
}

/** A header as a list of YAML takes it. */
function inYaml(header: string): string {
  return /^[A-Za-z_][\w -]*$/.test(header) ? header : JSON.stringify(header)
}

function columnOf(column: string, mapped: string | undefined): SiteColumn | null {
  const plain = { column, path: [], ofAll: false, isText: true, decimal: '.' as const }
  const word = mapped ?? column
  if (word === 'option' || word === 'topology' || word === 'retired') return { ...plain, says: word }
  if (word === 'install_date') return { ...plain, says: 'date', path: FIRST_AGE, ofAll: true }
  if (word === 'age_years') return { ...plain, says: 'age', path: FIRST_AGE, ofAll: true, isText: false }
  const key = KNOWN.get(word) ?? (mapped !== undefined || DOTTED_KEY.test(word) ? word : null)
  if (key === null) return null
  const path = pathOf(key)
  const isAge = /^options\.0\.components\.[^.]+\.age_years$/.test(path.join('.'))
  const isText = TEXT_KEYS.includes(path.at(-1) ?? '')
  return { ...plain, says: isAge ? 'age' : 'value', path, isText }
}

/** A key with dots; a header that contains a dot by chance does not match. */
const DOTTED_KEY = /^[a-z_]+(\.[\w-]+)+$/

const FIRST_AGE = ['options', '0', 'components', '0', 'age_years'] as const

const TEXT_KEYS: readonly string[] = ['name', 'model', 'tier', 'kind', 'replacement_cover', 'records', 'visit_policy']

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

function faultOf(found: SiteColumn, written: string, before: readonly SiteColumn[]): string | null {
  const { column, path, says } = found
  const key = path.join('.')
  if (path.some(part => ['__proto__', 'constructor', 'prototype'].includes(part)))
    return `column "${column}" cannot fill "${key}"`
  const numbered = /^options\.\d+\.(.+)$/.exec(written === '' ? column : written)
  if (numbered !== null)
    return `column "${column}" fills "${numbered[0]}"; write "${numbered[1]}": it fills the option that is on the roof`
  const wide = FLEET_WIDE.find(one => path[0] === one && !(one === 'options' && path.length > 2))
  if (wide !== undefined)
    return `column "${column}" fills "${wide}", which holds for the whole fleet; set it in the template`
  const choosing = says === 'option' || says === 'topology'
  const other = before.find(one => {
    if (choosing) return one.says === 'option' || one.says === 'topology'
    return one.path.length > 0 && one.path.join('.') === key
  })
  if (other === undefined) return null
  const meaning = choosing ? 'say which option is on the roof' : `fill "${keyOf(path)}"`
  return `columns "${other.column}" and "${column}" both ${meaning}`
}

/** A fault that the column has with every option. */
function lostEverywhere(column: SiteColumn, templates: readonly unknown[]): string | null {
  const faults = templates.map(template => lostPlace(column, template))
  return faults.every(fault => fault !== null) ? (faults[0] ?? null) : null
}

/**
 * Why a column cannot fill its key: missing blocks are made, but an entry of a list has to exist.
 *
 * @param column - of the table
 * @param template - with the option on the roof first
 * @returns in words; null where it can
 */
export function lostPlace({ column, path }: SiteColumn, template: unknown): string | null {
  let at: unknown = template
  for (const [depth, part] of path.entries()) {
    if (Array.isArray(at)) {
      if (!/^(0|[1-9]\d*)$/.test(part) || Number(part) >= at.length) {
        const entries = at.length === 1 ? 'one entry, number 0' : `${at.length} entries, numbers 0 to ${at.length - 1}`
        return `column "${column}" fills "${keyOf(path)}", but "${keyOf(path.slice(0, depth))}" of the template has ${entries}`
      }
      at = at[Number(part)]
    } else if (isBlock(at)) at = Object.hasOwn(at, part) ? at[part] : undefined
    else return null
  }
  return null
}

/** A path as a person writes it: without the option it lies in. */
function keyOf(path: readonly string[]): string {
  return path.slice(path[0] === 'options' ? 2 : 0).join('.')
}

/**
 * A cell as the scenario would hold it.
 *
 * @param cell - trimmed text, not empty
 * @param column - whether its key takes words, and how its figures are written
 * @returns a number where it is written as one, else the text
 */
export function cellValue(
  cell: string,
  { isText, decimal }: Pick<SiteColumn, 'isText' | 'decimal'>,
): string | number | boolean {
  if (isText) return cell
  const figure = plainFigure(cell, decimal)
  if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(figure)) return Number(figure)
  if (cell === 'true' || cell === 'false') return cell === 'true'
  return figure
}

/**
 * A figure with a point for its decimals and no sign for its thousands.
 *
 * @param cell - trimmed
 * @param decimal - decimal separator of its column
 * @returns the cell itself where it is no such figure
 * @example plainFigure('1.500,25', ',') // '1500.25'
 */
export function plainFigure(cell: string, decimal: DecimalSign): string {
  return WRITTEN[decimal].test(cell) ? cell.replaceAll(decimal === '.' ? ',' : '.', '').replace(decimal, '.') : cell
}

/** Figures by their decimal separator. */
const WRITTEN = {
  '.': /^[-+]?(\d{1,3}(,\d{3})+|\d+)(\.\d+)?(\s*%)?$/,
  ',': /^[-+]?(\d{1,3}(\.\d{3})+|\d+)(,\d+)?(\s*%)?$/,
} as const
