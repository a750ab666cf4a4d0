/**
 * Rows as lines of text with columns that line up; the last column is left as it is.
 *
 * @param rows - cells, equally many in each row
 * @param indent - spaces before each line
 * @returns lines, each ended
 */
export function textTable(rows: readonly (readonly string[])[], indent = 2): string {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map(row => (row[column] ?? '').length)))
  const line = (row: readonly string[]) =>
    row.map((cell, column) => (column === row.length - 1 ? cell : cell.padEnd(widths[column] ?? 0))).join('  ')
  return rows.map(row => `${' '.repeat(indent)}${line(row).trimEnd()}\n`).join('')
}

/** Text for a terminal: spaces that do not break become plain ones. */
export function terminalText(text: string): string {
  return text.replaceAll('\u00a0', ' ').replaceAll('\u202f', ' ')
}
