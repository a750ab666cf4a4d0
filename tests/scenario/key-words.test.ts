import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { EVIDENCE_FIGURES } from '../../src/evidence/index.ts'
import { formatInput } from '../../src/report/format/input.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { componentBlock } from '../../src/scenario/schema/component.ts'
import { scenarioJsonSchema } from '../../src/scenario/schema/json-schema.ts'
import { keyPhrase, keyUnit, keyWords, REPORT_WORDS } from '../../src/scenario/schema/key-words.ts'
import { optionBlock } from '../../src/scenario/schema/option.ts'
import { scenarioBlock } from '../../src/scenario/schema/scenario.ts'

const EXAMPLES = join(import.meta.dirname, '../../examples')
const files = readdirSync(EXAMPLES).filter(name => name.endsWith('.yaml'))

/** Paths of the values that a schema takes; a place in a list or table is its first. */
function valuesOf(schema: z.core.$ZodType, path: string): string[] {
  if (schema instanceof z.ZodOptional) return valuesOf(schema.unwrap(), path)
  if (schema instanceof z.ZodObject)
    return Object.entries(schema.shape).flatMap(([key, child]) => valuesOf(child, path === '' ? key : `${path}.${key}`))
  if (schema instanceof z.ZodArray && schema.element instanceof z.ZodObject)
    return valuesOf(schema.element, `${path}.0`)
  if (schema instanceof z.ZodRecord) return [`${path}.5`]
  if (schema instanceof z.ZodUnion) {
    const forms = schema.options.filter(form => form instanceof z.ZodObject)
    // a range is one value; any other table has values of its own
    const tables = forms.filter(form => !('low' in form.shape))
    return [path, ...tables.flatMap(table => valuesOf(table, path))]
  }
  return [path]
}

describe('every value has words for the report', () => {
  // options, components and arrays are called by their names; what is inside a component is asked for by itself
  const ofSite = valuesOf(scenarioBlock, '').filter(path => !/^options\.|\.arrays\.0/.test(path))
  const ofOption = valuesOf(optionBlock, '').filter(path => !path.startsWith('components.'))
  const ofComponent = valuesOf(componentBlock, '')

  test('keys are found', () => {
    expect(ofSite).toContain('site.energy_value.import_price_per_kwh')
    expect(ofOption).toContain('warranty_offers.0.years')
    expect(ofComponent).toContain('failure.modes.0.failed_by.5')
    expect(ofComponent).toContain('downtime.detect_days.p90')
    expect(ofSite.length + ofOption.length + ofComponent.length).toBeGreaterThan(150)
  })

  test.each([
    ['site', ofSite],
    ['option', ofOption],
    ['component', ofComponent],
  ])('every key of the schema: %s', (_, paths) => {
    expect(paths.filter(path => keyPhrase(path) === null)).toEqual([])
  })

  test('every figure of the evidence', () => {
    const keys = [...new Set(EVIDENCE_FIGURES.map(({ key }) => key))]
    expect(keys.filter(key => keyPhrase(key) === null)).toEqual([])
  })

  test.each(files)('every assumption of %s', file => {
    const path = join(EXAMPLES, file)
    const { assumptions } = readScenario(readFileSync(path, 'utf8'), path, EXAMPLES)
    expect(assumptions.map(({ key }) => key).filter(key => keyPhrase(key) === null)).toEqual([])
  })

  // ageing of panels was '0.005 share/year' in reports of roofs: only 'share' with a blank is written as per cent
  test.each(files)('shares of %s are written as per cent', file => {
    const path = join(EXAMPLES, file)
    const { assumptions } = readScenario(readFileSync(path, 'utf8'), path, EXAMPLES)
    const shares = assumptions.filter(({ unit }) => unit.startsWith('share'))
    expect(shares.filter(({ value, unit }) => !formatInput(value, unit).includes('%'))).toEqual([])
  })

  test('a key without words is seen', () => {
    expect(keyPhrase('Option / no.such_key')).toBeNull()
    expect(keyPhrase('failure.no_such_key')).toBeNull()
  })
})

describe('every value has its unit in the schema', () => {
  test.each([
    ['Plain / string-inverter / warranty.years', 'years'],
    ['Plain / string-inverter / replacement.parts', 'CHF'],
    ['Plain / string-inverter / failure.modes.1.failed_by.15', 'share'],
    ['Plain / string-inverter / downtime.detect_days.median', 'days'],
    ['Plain / warranty_provider.exit_rate_per_year', 'share per year'],
    ['Plain / battery.fading', 'share a year'],
    ['site.energy_value.import_price_per_kwh', 'CHF/kWh'],
    ['site.generation.monthly_kwh (sum of twelve)', 'kWh'],
    ['site.location.monthly_ghi_kwh_m2_day (mean of twelve)', 'kWh/m² a day'],
    ['prices_from_evidence.factor', 'CHF for one USD'],
    ['roof.heat_loss.open', 'W/m²K'],
    ['failure.model_spread', ''],
  ])('%s', (key, unit) => expect(keyUnit(key, 'CHF')).toBe(unit))

  test('a key that nothing knows is a fault of the program', () => {
    expect(() => keyUnit('Option / no.such_key', 'EUR')).toThrow(RangeError)
  })

  test('figures of the evidence have the unit of the key they fill, prices apart', () => {
    const priced = /^replacement\.|^visit\.(call_out|roof_access)$|^exchange\./
    const known = EVIDENCE_FIGURES.filter(({ key }) => keyPhrase(key) !== null && !priced.test(key))
    expect(known.length).toBeGreaterThan(150)
    expect(known.filter(({ key, unit }) => keyUnit(key, 'EUR') !== unit).map(({ key }) => key)).toEqual([])
  })
})

describe('keys in words', () => {
  test.each([
    ['Plain / string-inverter / warranty.years', 'years of parts cover'],
    ['failure.failed_by.15', 'share failed by year 15'],
    ['failure.modes.1.mean_life_years', 'mean life, cause 2'],
    ['failure.modes.1.failed_by.15', 'share failed by year 15, cause 2'],
    ['downtime.detect_days.p90', 'days until a failure is noticed (9 of 10 within)'],
    ['warranty_offers.0.labour_years', 'warranty offer 1: labour years'],
    ['Plain / later.A battery, 5.1 kWh.cost', 'cost of a later purchase: A battery, 5.1 kWh'],
    // the mark between places in the name of a purchase or an array: the key was shown as it is
    ['Plain / later.Battery / inverter.cost', 'cost of a later purchase: Battery / inverter'],
    ['site.generation.arrays South / east', 'array South / east'],
    ['successor.chance.5', 'share of models no longer sold after 5 years'],
    ['site.generation.degradation', 'ageing of the panels'],
    ['site.generation.monthly_kwh (sum of twelve)', 'energy of a year'],
    ['site.generation (sum of the hours)', 'energy of a year'],
    ['site.generation.arrays South. 2', 'array South. 2'],
    ['Hybrid / battery.fading', 'what the battery loses of its worth with each year of its age'],
    ['roof.heat_loss.open', 'cooling in the open'],
    ['something.not_yet.known_here', 'not yet known here'],
  ])('%s', (key, words) => expect(keyWords(key)).toBe(words))

  test('the schema for editors has none of them', () => {
    const text = JSON.stringify(scenarioJsonSchema())
    expect(text).toContain('Price of a call-out')
    for (const word of REPORT_WORDS) expect(text).not.toContain(`"${word}":`)
  })
})
