import { isTable } from './rewrite.ts'

/**
 * A value as it may be typed on one line of a scenario.
 *
 * @param value - plain data
 * @example inline({ years: 10, labour_years: 2 }) // '{years: 10, labour_years: 2}'
 */
export function inline(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`
  if (isTable(value))
    return `{${Object.entries(value)
      .map(([key, child]) => `${key}: ${inline(child)}`)
      .join(', ')}}`
  if (typeof value === 'string') return PLAIN.test(value) ? value : JSON.stringify(value)
  return String(value)
}

/** Text that YAML reads as the same text without quotes: words, files, months and per cents, nothing that looks like a number. */
const PLAIN = /^(?!(?:true|false|null|yes|no)$)(?:[A-Za-z][\w ./-]*|\d+(?:\.\d+)?%|\d{4}-\d\d)$/
