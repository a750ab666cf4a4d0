import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { NonFiniteError } from '../../src/errors.ts'
import { finiteJson, resultsJson } from '../../src/report/write-json.ts'
import { homeResults, quietResults } from './fixture.ts'

/** The same value with the keys of every object in reverse order. */
function turned(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turned)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, below]) => [key, turned(below)]),
  )
}

describe('results.json', () => {
  test('reads back as what was written', () => {
    expect(JSON.parse(resultsJson(homeResults()))).toEqual(homeResults())
    expect(JSON.parse(resultsJson(quietResults()))).toEqual(quietResults())
  })
  test('the order of keys does not depend on the order of filling', () => {
    // `turned` keeps every key, so the type holds
    expect(resultsJson(turned(homeResults()) as Results)).toBe(resultsJson(homeResults()))
    expect(Object.keys(JSON.parse(resultsJson(homeResults())))).toEqual([
      'tool',
      'scenario',
      'seed',
      'draws',
      'errorShare',
      'blocks',
      'parameterSets',
      'inputs',
      'options',
      'roof',
      'comparisons',
      'warrantySweep',
      'switchPoints',
      'swings',
      'drivers',
      'driverSets',
      'notes',
    ])
  })
  test('N4 a figure that is not finite stops the run and names its place', () => {
    const home = homeResults()
    const broken: Results = {
      ...home,
      options: home.options.map(option => ({ ...option, outOfPocket: { mean: Number.NaN, standardError: 1 } })),
    }
    expect(() => resultsJson(broken)).toThrow(NonFiniteError)
    expect(() => resultsJson(broken)).toThrow(
      'rule N4: results.options.0.outOfPocket.mean is not a finite number; this is a fault of the program or of an extreme input',
    )
  })
  test('a key that is missing or has no place is not passed over', () => {
    const { seed, ...without } = homeResults()
    expect(seed).toBe(1)
    // deliberately not whole
    expect(() => resultsJson(without as Results)).toThrow('results.seed is missing')
    const more = { ...homeResults(), extra: 1 }
    expect(() => resultsJson(more)).toThrow('results.extra has no place in results-order.ts')
  })
})

test('N4: any other results with a figure that is not finite are refused by its key; JSON alone would write null', () => {
  expect(finiteJson({ a: [1, null], b: 'x' })).toBe('{\n "a": [\n  1,\n  null\n ],\n "b": "x"\n}\n')
  for (const broken of [Number.NaN, Infinity, -Infinity])
    expect(() => finiteJson({ group: { b10: broken } })).toThrow('rule N4: b10 is not a finite number')
})
