import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'

/** One `@example` of a docstring: an expression and the value it is said to have. */
interface Example {
  readonly file: string
  readonly expression: string
  readonly value: string
}

const FOLDER = new URL('../../src/numerics/', import.meta.url)
const files = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' }).filter(
  name => name.endsWith('.ts') && !name.endsWith('.d.ts'),
)
const examples = files.flatMap(file => examplesOf(file, readFileSync(new URL(file, FOLDER), 'utf8')))

function examplesOf(file: string, text: string): Example[] {
  return [...text.matchAll(/@example ([\s\S]*?)(?=\n \* @|\n \*\/)/g)].map(match => {
    const lines = (match[1] ?? '').replaceAll(/\n \* ?/g, '\n')
    const [expression = '', value = ''] = lines.split(/ \/\/ (?=[^/]*$)/)
    return { file, expression: expression.trim(), value: value.trim() }
  })
}

/** Same shape; numbers equal to the digits printed. */
function agrees(actual: unknown, printed: unknown): boolean {
  if (typeof printed === 'number' && typeof actual === 'number') {
    if (!Number.isFinite(printed)) return Object.is(actual, printed)
    const decimals = (String(printed).split('.')[1] ?? '').length
    // A whole number is meant exactly, but for the rounding of the example's own inputs.
    const slack = decimals > 0 ? 0.5001 * 10 ** -decimals : 1e-5 * Math.abs(printed)
    return Math.abs(actual - printed) <= Math.max(slack, 1e-12)
  }
  if (typeof printed === 'object' && printed !== null && typeof actual === 'object' && actual !== null) {
    const theirs = Object.entries(printed)
    const ours = new Map(Object.entries(actual))
    return theirs.length === ours.size && theirs.every(([key, value]) => agrees(ours.get(key), value))
  }
  return Object.is(actual, printed)
}

describe('examples in the docstrings of numerics give the value they say', async () => {
  const modules = await Promise.all(files.map(file => import(new URL(file, FOLDER).href)))
  const scope: Record<string, unknown> = Object.assign({}, ...modules)
  const run = (expression: string, own: Record<string, unknown>): unknown => {
    const names = { ...scope, ...own }
    return new Function(...Object.keys(names), `return (${expression})`)(...Object.values(names))
  }

  test('there are examples to run', () => {
    expect(examples.length).toBeGreaterThan(20)
  })

  test.each(examples)('$file: $expression', ({ file, expression, value }) => {
    expect(value, `${file}: the example states no value after //`).not.toBe('')
    const actual = run(expression, modules[files.indexOf(file)] ?? {})
    expect(agrees(actual, run(value, {})), `gives ${JSON.stringify(actual)}, said ${value}`).toBe(true)
  })
})
