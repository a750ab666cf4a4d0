import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { parseYaml } from '../../src/input/yaml.ts'
import { loadScenario, readScenario } from '../../src/scenario/read-scenario.ts'
import { scenarioBlock } from '../../src/scenario/schema/scenario.ts'
import { STARTER } from '../../src/scenario/starter.ts'

const FOLDER = 'examples'
const FILES = readdirSync(FOLDER).filter(name => name.endsWith('.yaml'))

/** Keys that are refused as not available yet, or that are read only with one of those. */
const NOT_YET: string[] = []

describe('the examples', () => {
  test.each(FILES)('%s is read without a problem', async name => {
    const scenario = await loadScenario(join(FOLDER, name))
    expect(scenario.options.length).toBeGreaterThan(0)
    expect(scenario.assumptions.every(value => value.source !== '')).toBe(true)
  })

  test('between them hold every key of a scenario', () => {
    const used = new Set<string>()
    for (const name of FILES) collect(parseYaml(readFileSync(join(FOLDER, name), 'utf8'), name).value, '', used)
    collect(parseYaml(STARTER, 'starter.yaml').value, '', used)
    // The terms of an option are those of a component, in another place.
    const missing = keysOf(scenarioBlock, '').filter(
      key =>
        !used.has(key) &&
        !NOT_YET.includes(key) &&
        !used.has(key.replace(/^options.warranty/, 'options.components.warranty')),
    )
    expect(missing).toEqual([])
  })

  test('the owner’s example has a reserve of its own', async () => {
    const scenario = await loadScenario(join(FOLDER, 'ageing-inverters.yaml'))
    expect(scenario.reserve).toEqual({ interest: 0.01, opening: 2500, confidence: 0.8, inflation: 0.02 })
    const ages = scenario.options[0]?.populations.map(population => population.ageYears)
    expect(ages).toEqual([11, 7, 4])
  })

  test('U1c: the null case differs from the other file in the tier effect only', async () => {
    const drawn = await loadScenario(join(FOLDER, 'budget-or-robust.yaml'))
    const fixed = await loadScenario(join(FOLDER, 'budget-or-robust-null.yaml'))
    expect(fixed.tierEffect).toEqual({ fixed: 0 })
    expect(drawn.tierEffect).toEqual({ unknown: drawn.unknowns.findIndex(unknown => unknown.name === 'tier_effect') })
    const names = (unknowns: typeof drawn.unknowns) => unknowns.map(unknown => unknown.name)
    expect(names(fixed.unknowns)).toEqual(names(drawn.unknowns).filter(name => name !== 'tier_effect'))
  })
})

test('the starter is read as it is', () => {
  const scenario = readScenario(STARTER, 'starter.yaml', '.')
  expect(scenario.options.map(option => option.name)).toEqual(['String inverter', 'Panel-level units'])
})

test('every line that the starter shows in a comment may be used', () => {
  const shown = STARTER.replace(/^(\s*)# (\s*(?:- [{\w]|[a-z_]+:))/gm, '$1$2')
  expect(shown.match(/^\s*# /gm)?.length).toBeLessThan(20)
  const scenario = readScenario(shown, 'starter.yaml', '.')
  expect(scenario.options.map(option => option.populations.map(({ kind }) => kind))).toEqual([
    ['string-inverter', 'battery', 'battery-inverter'],
    ['panel-level-unit', 'gateway'],
  ])
})

test.each(['hybrid', 'panel-level', 'string-optimisers'])('the starter takes another topology as it is: %s', word => {
  const scenario = readScenario(STARTER.replace('topology: string ', `topology: ${word} `), 'starter.yaml', '.')
  expect(scenario.options[0]?.topology).toBe(word)
})

/** Every key of a schema by its path; lists add nothing, tables from names or years neither. */
function keysOf(schema: z.core.$ZodType, path: string): string[] {
  if (schema instanceof z.ZodOptional) return keysOf(schema.unwrap(), path)
  if (schema instanceof z.ZodArray) return keysOf(schema.element, path)
  if (schema instanceof z.ZodUnion) return [...new Set(schema.options.flatMap(form => keysOf(form, path)))]
  if (!(schema instanceof z.ZodObject)) return []
  // Ranges, delays and columns of files are values, not blocks: the keys inside them are the same everywhere.
  if ('low' in schema.shape || 'p90' in schema.shape || 'minus' in schema.shape) return []
  return Object.entries(schema.shape).flatMap(([key, child]) => {
    const at = path === '' ? key : `${path}.${key}`
    return [at, ...keysOf(child, at)]
  })
}

function collect(value: unknown, path: string, used: Set<string>): void {
  if (Array.isArray(value)) for (const item of value) collect(item, path, used)
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return
  for (const [key, child] of Object.entries(value)) {
    const at = path === '' ? key : `${path}.${key}`
    used.add(at)
    collect(child, at, used)
  }
}
