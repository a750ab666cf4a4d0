import { visible } from '../plain-text.ts'

/** Signs that make a spreadsheet run a cell as a formula, also after spaces and in full-width form. */
const RUNS = /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/u

/**
 * A text as it is safe in a CSV cell: one that a spreadsheet would run as a formula gets an apostrophe before it.
 *
 * @param text - words, such as a name that a user typed; numbers need no change
 * @example cellText('=1+1') // "'=1+1"
 */
export function cellText(text: string): string {
  const shown = visible(text)
  return RUNS.test(text) ? `'${shown}` : shown
}

/** Signs that a cell may only hold between quotation marks. */
const NEEDS_MARKS = /[",\r\n]/

/**
 * A line of a CSV file, with its line feed.
 *
 * @param cells - text of each
 * @source RFC 4180 (2005), section 2, rules 5 to 7
 * @example csvLine(['a', 'b "c"']) // 'a,"b ""c"""\n'
 */
export function csvLine(cells: readonly string[]): string {
  let line = ''
  for (const cell of cells) line += `,${NEEDS_MARKS.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell}`
  return `${line.slice(1)}\n`
}

/** A cell between quotation marks, or without. */
const CELL = /,(?:"((?:[^"]|"")*)"|([^,]*))/g

/**
 * The cells of a line that `csvLine` wrote.
 *
 * @param line - without its line feed
 * @example cellsOfLine('a,"b ""c"""') // ['a', 'b "c"']
 */
export function cellsOfLine(line: string): readonly string[] {
  return Array.from(`,${line}`.matchAll(CELL), ([, marked, plain = '']) => marked?.replaceAll('""', '"') ?? plain)
}
