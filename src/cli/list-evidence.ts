import type { Figure } from '../evidence/figure.ts'
import { SOURCES } from '../evidence/sources.ts'
import { formatInput, formatInputRange } from '../report/format.ts'
import { terminalText, textTable } from './text-table.ts'

/**
 * The built-in figures as text, row by row of the evidence.
 *
 * @param figures - what to list
 * @returns text of several lines
 */
export function listEvidence(figures: readonly Figure[]): string {
  const rows = [...new Set(figures.map(figure => figure.row))]
  const count = (known: Figure['known']) => figures.filter(figure => figure.known === known).length
  const head = `${figures.length} built-in figures: ${count('published')} published, ${count('recalled')} recalled without the source at hand, ${count('judgement')} judgement.\nRanges are the points that 1 of 10 lie below and 1 of 10 above. Prices are US dollars of about 2025.\n`
  const tables = rows.map(row => {
    const lines = figures.filter(figure => figure.row === row).map(line)
    return `\n${row === 'common' ? 'For all' : row}\n${textTable(lines)}`
  })
  return terminalText([head, ...tables].join(''))
}

function line(figure: Figure): string[] {
  const { low, high, unit } = figure
  const range = low === null || high === null ? '' : formatInputRange(low, high, unit)
  return [
    figure.key,
    formatInput(figure.value, unit),
    range,
    figure.known,
    `${figure.remark} Source: ${SOURCES[figure.source]}.`,
  ]
}
