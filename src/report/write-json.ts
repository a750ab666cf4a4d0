import type { Results } from '../analysis/results.ts'
import { NonFiniteError } from '../errors.ts'
import { escapedJson } from '../plain-text.ts'
import { RESULTS_ORDER } from './estimate/results-order.ts'

/**
 * Any results as JSON, one space a level, a line feed at the end.
 *
 * @param results - plain data
 * @returns JSON
 * @throws NonFiniteError N4, naming the key, for a number that is not finite, which JSON.stringify would write as null
 */
export function finiteJson(results: unknown): string {
  const json = JSON.stringify(
    results,
    (key, value: unknown) => {
      if (typeof value === 'number' && !Number.isFinite(value)) throw new NonFiniteError('N4', key)
      return value
    },
    1,
  )
  return `${escapedJson(json)}\n`
}

type Order = true | { readonly [key: string]: Order }

/**
 * The text of results.json: keys in the order of results.ts whatever the order in which they were filled, two spaces a
 * level, lists of plain values on one line, a line feed at the end.
 *
 * @param results - everything a run finds
 * @returns JSON
 * @throws NonFiniteError N4, naming the path, for a number that is not finite
 */
export function resultsJson(results: Results): string {
  return `${escapedJson(write(results, RESULTS_ORDER, '', 'results'))}\n`
}

function write(value: unknown, order: Order, indent: string, path: string): string {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new NonFiniteError('N4', path)
    return JSON.stringify(value)
  }
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return JSON.stringify(value)
  const inner = `${indent}  `
  if (Array.isArray(value)) {
    const items = value.map((item, index) => write(item, order, inner, `${path}.${index}`))
    if (value.every(item => typeof item !== 'object' || item === null)) return `[${items.join(', ')}]`
    return `[\n${items.map(item => inner + item).join(',\n')}\n${indent}]`
  }
  if (typeof value !== 'object' || order === true) throw new TypeError(`${path} is no value that results.json can hold`)
  const given = new Map<string, unknown>(Object.entries(value))
  const lines = Object.entries(order).map(([key, below]) => {
    if (!given.has(key)) throw new TypeError(`${path}.${key} is missing`)
    const text = write(given.get(key), below, inner, `${path}.${key}`)
    given.delete(key)
    return `${inner}${JSON.stringify(key)}: ${text}`
  })
  const [unlisted] = given.keys()
  if (unlisted !== undefined) throw new TypeError(`${path}.${unlisted} has no place in results-order.ts`)
  return `{\n${lines.join(',\n')}\n${indent}}`
}
