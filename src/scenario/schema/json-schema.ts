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
  const schema = z.toJSONSchema(scenarioBlock, { io: 'input', unrepresentable: 'any', override: allowEmpty })
  return { ...schema, title: 'Lifetally scenario', description: 'A site and the options quoted for it.' }
}

/** A key with nothing after it counts as left out, so optional keys take null. */
function allowEmpty({ jsonSchema }: { readonly jsonSchema: JsonSchema }): void {
  for (const [key, child] of Object.entries(jsonSchema.properties ?? {})) {
    if (
      jsonSchema.required?.includes(key) === true ||
      typeof child === 'boolean' ||
      jsonSchema.properties === undefined
    )
      continue
    const { description, ...rest } = child
    const told = description === undefined ? {} : { description }
    jsonSchema.properties[key] = { ...told, anyOf: [...(rest.anyOf ?? [rest]), { type: 'null' }] }
  }
}
