import * as z from 'zod'
import { isFree, shortForms, shortKeys } from '../short-form/json-forms.ts'
import { REPORT_WORDS } from './key-words.ts'
import { scenarioBlock } from './scenario.ts'

/** A JSON Schema or a part of it. */
export type JsonSchema = z.core.JSONSchema.BaseSchema

/**
 * JSON Schema (draft 2020-12) of a scenario file, for completion and hints in an editor. Made from the schema that
 * reads scenarios; rules between blocks are not in it.
 *
 * @returns plain JSON
 */
export function scenarioJsonSchema(): JsonSchema {
  const schema = z.toJSONSchema(scenarioBlock, {
    io: 'input',
    unrepresentable: 'any',
    // an editor does not need words of the report and numbers of rules
    override: ({ jsonSchema }) => {
      for (const word of REPORT_WORDS) delete jsonSchema[word]
      if (jsonSchema.description !== undefined) jsonSchema.description = jsonSchema.description.replace(RULES, '')
    },
  })
  const described = {
    title: 'Lifetally scenario',
    description: 'A site and the options quoted for it.',
    examples: [EXAMPLE],
  }
  return { ...withEmpty(schema, ''), ...described }
}

/** Rules in brackets, like (C8) or (R1-R3). */
const RULES = / \([A-Z]\d\w*(?:[-, ]+[A-Z]\d\w*)*\)/g

/** Two quotes as short as they may be; invented. */
const EXAMPLE = {
  currency: 'EUR',
  prices_from_evidence: true,
  site: {
    panels: 20,
    location: { latitude: 47 },
    generation: { annual_kwh: 6500 },
    energy_value: { import_price_per_kwh: 0.3, export_price_per_kwh: 0.08 },
  },
  options: [
    { name: 'A', topology: 'string', upfront_cost: 6900, inverter_kw: 5, warranty: '10 years' },
    { name: 'B', topology: 'panel-level', upfront_cost: 9400, warranty: '25 years' },
  ],
}

/** A key with nothing after it counts as left out, so optional keys take null; the short form adds keys and forms. */
function withEmpty(schema: JsonSchema, block: string): JsonSchema {
  const result: JsonSchema = { ...schema }
  if (schema.required !== undefined) result.required = schema.required.filter(key => !isFree(block, key))
  if (schema.anyOf !== undefined) result.anyOf = schema.anyOf.map(part => withEmpty(part, block))
  if (schema.items !== undefined && !Array.isArray(schema.items)) result.items = each(schema.items, block)
  if (typeof schema.additionalProperties === 'object')
    result.additionalProperties = each(schema.additionalProperties, '')
  if (schema.properties === undefined) return result
  const properties = Object.entries(schema.properties).map(([key, child]): [string, boolean | JsonSchema] => {
    const forms = withForms(each(child, key), shortForms(block, key))
    return [key, result.required?.includes(key) === true ? forms : orNull(forms)]
  })
  result.properties = { ...Object.fromEntries(properties), ...shortKeys(block) }
  return result
}

function each(part: boolean | JsonSchema, block: string): boolean | JsonSchema {
  return typeof part === 'boolean' ? part : withEmpty(part, block)
}

function orNull(part: boolean | JsonSchema): boolean | JsonSchema {
  return withForms(part, [{ type: 'null' }])
}

function withForms(part: boolean | JsonSchema, forms: readonly JsonSchema[]): boolean | JsonSchema {
  if (typeof part === 'boolean' || forms.length === 0) return part
  const { description, anyOf, ...rest } = part
  const described = description === undefined ? {} : { description }
  return { ...described, anyOf: [...(anyOf ?? [rest]), ...forms] }
}
