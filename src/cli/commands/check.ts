import type { Command } from 'commander'
import { print, printJson } from '../terminal/output.ts'

/** Adds `lifetally check`: every value with its unit and where it came from. */
export function addCheck(program: Command): void {
  program
    .command('check')
    .description('check a scenario and explain every value: unit, range, where it came from')
    .argument('<scenario>', 'YAML or JSON file; - reads standard input')
    .option('--json', 'write the values as JSON')
    .addHelpText('after', '\nExample:\n  lifetally check examples/home-four-topologies.yaml')
    .action(async (path: string, options: { json?: boolean }) => {
      const { loadScenario } = await import('../../scenario/read-scenario.ts')
      const { explainScenario } = await import('./explain-scenario.ts')
      const scenario = await loadScenario(path)
      const { title, taken, assumptions, unknowns, notes } = scenario
      if (options.json === true) printJson({ title, taken, values: assumptions, unknowns, notes })
      else print(explainScenario(scenario))
    })
}
