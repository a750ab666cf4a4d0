import { z } from 'zod'
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
  const schema = z.toJSONSchema(scenarioBlock, { io: 'input', unrepresentable: 'any' })
  const told = { title: 'Lifetally scenario', description: 'A site and the options quoted for it.' }
  return { ...withEmpty(schema), ...told }
}

/** Required keys that are filled before a scenario is read (`usual-parts.ts`). */
const FILLED_BEFORE: readonly string[] = ['components']

/** A key with nothing after it counts as left out, so optional keys take null. */
function withEmpty(schema: JsonSchema): JsonSchema {
  const result: JsonSchema = { ...schema }
  if (schema.required !== undefined) result.required = schema.required.filter(key => !FILLED_BEFORE.includes(key))
  if (schema.anyOf !== undefined) result.anyOf = schema.anyOf.map(withEmpty)
  if (schema.items !== undefined && !Array.isArray(schema.items)) result.items = each(schema.items)
  if (typeof schema.additionalProperties === 'object') result.additionalProperties = each(schema.additionalProperties)
  if (schema.properties === undefined) return result
  result.properties = Object.fromEntries(
    Object.entries(schema.properties).map(([key, child]) => [
      key,
      schema.required?.includes(key) === true ? each(child) : orNull(each(child)),
    ]),
  )
  return result
}

function each(part: boolean | JsonSchema): boolean | JsonSchema {
  return typeof part === 'boolean' ? part : withEmpty(part)
}

function orNull(part: boolean | JsonSchema): boolean | JsonSchema {
  if (typeof part === 'boolean') return part
  const { description, anyOf, ...rest } = part
  const told = description === undefined ? {} : { description }
  return { ...told, anyOf: [...(anyOf ?? [rest]), { type: 'null' }] }
}
