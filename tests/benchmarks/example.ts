import { fileURLToPath } from 'node:url'
import type { Scenario } from '../../src/scenario/model.ts'
import { loadScenario } from '../../src/scenario/read-scenario.ts'

/** Path of example (a), the home roof with four topologies. */
export const EXAMPLE = fileURLToPath(new URL('../../examples/home-four-topologies.yaml', import.meta.url))

/** Example (a) as the program reads it. */
export function example(): Promise<Scenario> {
  return loadScenario(EXAMPLE)
}
