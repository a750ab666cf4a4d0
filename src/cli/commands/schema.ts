import type { Command } from 'commander'
import { printJson } from '../terminal/output.ts'

/** Adds `lifetally schema`: JSON Schema of the scenario. */
export function addSchema(program: Command): void {
  program
    .command('schema')
    .description('print the JSON Schema of a scenario, for completion in an editor')
    .addHelpText('after', '\nExample:\n  lifetally schema > scenario.schema.json')
    .action(async () => {
      const { scenarioJsonSchema } = await import('../../scenario/schema/json-schema.ts')
      printJson(scenarioJsonSchema())
    })
}
