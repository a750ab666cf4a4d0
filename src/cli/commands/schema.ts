import type { Command } from 'commander'

/** Adds `lifetally schema`: JSON Schema of the scenario. */
export function addSchema(program: Command): void {
  program
    .command('schema')
    .description('print the JSON Schema of a scenario, for completion in an editor')
    .addHelpText('after', '\nExample:\n  lifetally schema > scenario.schema.json')
    .action(async () => {
      const { scenarioJsonSchema } = await import('../../scenario/schema/json-schema.ts')
      process.stdout.write(`${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`)
    })
}
