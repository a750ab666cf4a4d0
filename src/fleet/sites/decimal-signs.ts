import { InputError, type Problem } from '../../errors.ts'
import type { ColumnPlan, DecimalSign, SiteColumn } from './columns.ts'
import type { FleetSource } from './fleet-file.ts'
import { streamSites } from './site-stream.ts'

/**
 * Reads the figures of a table once to find the decimal separator, a point or a comma (F7a). A figure like 5.25 or
 * 1.500,00 decides it for its column, and for columns in which no figure does; 1.500 may be either.
 *
 * @param source - the fleet
 * @param plan - columns in use; null for a folder
 * @returns the plan, each column with its sign
 * @throws InputError where a figure may be one or a thousand times as much, and no other figure of the table decides it
 */
export async function withDecimalSigns(source: FleetSource, plan: ColumnPlan | null): Promise<ColumnPlan | null> {
  if (source.form === 'folder' || plan === null) return plan
  const seen = plan.columns.map(column => new Figures(column))
  if (seen.every(({ column }) => !isFigure(column))) return plan
  for await (const { cells, line } of streamSites(source, plan))
    for (const [at, figures] of seen.entries()) figures.take(cells?.[at] ?? '', line)
  const signs = new Set(seen.flatMap(({ sign }) => (sign === null ? [] : [sign])))
  const [one] = signs
  const ofTable = signs.size === 1 ? one : undefined
  const problems = seen.flatMap(figures => figures.problem(source.sites, ofTable) ?? [])
  if (problems.length > 0) throw new InputError(problems)
  return { ...plan, columns: seen.map(({ column, sign }) => ({ ...column, decimal: sign ?? ofTable ?? '.' })) }
}

/** Whether cells of a column are figures in which a thousand times as much could be meant: no age is that high. */
function isFigure({ says, isText }: SiteColumn): boolean {
  return !isText && (says === 'value' || says === 'age')
}

/** Ends with one sign and three digits: decimals or thousands. */
const OPEN = /^[-+]?[1-9]\d{0,2}([.,])\d{3}$/
/** Both signs, the last of which is the decimal separator. */
const BOTH = /^[-+]?\d{1,3}(?:([.,])\d{3})+(?!\1)[.,]\d+$/
/** One sign twice or more: thousands. */
const MANY = /^[-+]?\d{1,3}([.,])\d{3}(?:\1\d{3})+$/
/** One sign before any other number of digits: decimals. */
const ONE = /^[-+]?\d*([.,])\d+$/

/** What the figures of one column show. */
class Figures {
  readonly column: SiteColumn
  readonly #signs = new Set<DecimalSign>()
  #open: { readonly cell: string; readonly line: number | null } | null = null

  constructor(column: SiteColumn) {
    this.column = column
  }

  /** The sign that the column shows; null where it shows none, or both. */
  get sign(): DecimalSign | null {
    const [one] = this.#signs
    return this.#signs.size === 1 && one !== undefined ? one : null
  }

  take(cell: string, line: number | null): void {
    if (!isFigure(this.column)) return
    const text = cell.replace(/\s*%$/, '')
    const thousands = BOTH.exec(text) ?? MANY.exec(text)
    if (thousands !== null) this.#signs.add(thousands[1] === '.' ? ',' : '.')
    else if (OPEN.test(text)) {
      // no unit is 1,500 years old
      if (this.column.says === 'age') this.#signs.add(text.includes('.') ? '.' : ',')
      else this.#open ??= { cell, line }
    } else {
      const [, sign] = ONE.exec(text) ?? []
      if (sign === '.' || sign === ',') this.#signs.add(sign)
    }
  }

  /** The problem where a figure may mean two things. */
  problem(file: string, ofTable: DecimalSign | undefined): Problem | null {
    if (this.#open === null || this.sign !== null || (this.#signs.size === 0 && ofTable !== undefined)) return null
    const { cell, line } = this.#open
    const [small, large] = [Number(cell.replace(',', '.')), Number(cell.replace(/[.,]/, ''))]
    const message = `"${cell}" may be ${small} or ${large}, and no other figure decides it; write ${small} or ${large}, and so in the whole column`
    return { file, line, column: null, key: this.column.column, message }
  }
}
