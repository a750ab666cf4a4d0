import { expect, test } from 'vitest'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { run } from './run.ts'

test('lifetally schema prints a JSON Schema with hints, made from the schema that reads scenarios', () => {
  const { code, out } = run(['schema'])
  expect(code).toBe(0)
  const schema = JSON.parse(out)
  expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema')
  expect(schema.required).toEqual(['site', 'options'])
  expect(schema.additionalProperties).toBe(false)
  expect(schema.properties.horizon_years).toEqual({
    description: 'Years played; default 25.',
    anyOf: [{ type: 'integer', minimum: 1, maximum: 60 }, { type: 'null' }],
  })
  const component = schema.properties.options.items.properties.components.anyOf[0].items
  expect(component.properties.kind.anyOf[0].enum).toContain('panel-level-unit')
  expect(component.properties.kind.anyOf[1].enum).toContain('micro-inverter')
  const option = schema.properties.options.items
  expect(option.required).toEqual(['name', 'topology', 'upfront_cost'])
  expect(option.properties.inverter_kw.type).toBe('number')
  expect(option.properties.warranty.anyOf.slice(1).map((form: { type: string }) => form.type)).toEqual([
    'number',
    'string',
    'null',
  ])
  const parts = component.properties.replacement.anyOf[0].properties.parts
  expect(parts.description).toMatch(/^± Price of a new unit/)
  expect(parts.anyOf.map((form: { type: string }) => form.type)).toEqual(['number', 'object', 'null'])
  const share = component.properties.warranty.anyOf[0].properties.parts.anyOf
  expect(share.map((form: { type: string }) => form.type)).toEqual(['number', 'string', 'null'])
})

test('its example is a scenario, and no description names a rule', () => {
  const { out } = run(['schema'])
  const example = JSON.stringify(JSON.parse(out).examples[0])
  expect(readScenario(example, 'example.json', '.').options).toHaveLength(2)
  expect(out).not.toMatch(/\([A-Z]\d[^)]*\)/)
})

test('every key has a description', () => {
  const bare: string[] = []
  describe(JSON.parse(run(['schema']).out), '', bare)
  expect(bare).toEqual([])
})

function describe(schema: Record<string, unknown>, path: string, bare: string[]): void {
  for (const form of [schema, ...((schema.anyOf ?? []) as Record<string, unknown>[])]) {
    const properties = (form.properties ?? {}) as Record<string, Record<string, unknown>>
    for (const [key, child] of Object.entries(properties)) {
      if (child.description === undefined) bare.push(`${path}${key}`)
      describe(child, `${path}${key}.`, bare)
    }
    if (typeof form.items === 'object') describe(form.items as Record<string, unknown>, path, bare)
  }
}
