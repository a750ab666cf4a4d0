import { hybrid } from './hybrid.ts'
import { panelLevel } from './panel-level.ts'
import { string } from './string.ts'
import { stringOptimisers } from './string-optimisers.ts'
import { stringSomeOptimisers } from './string-some-optimisers.ts'
import type { Topology } from './topology.ts'

/** Every topology by its word in a scenario; the one place to add another. */
export const TOPOLOGIES = {
  string,
  hybrid,
  'panel-level': panelLevel,
  'string-optimisers': stringOptimisers,
  'string-some-optimisers': stringSomeOptimisers,
} as const satisfies Record<string, Topology>

/** The word of a topology. */
export type TopologyKey = keyof typeof TOPOLOGIES

/** The words of all topologies, in the order in which they are listed. */
export const TOPOLOGY_KEYS = Object.keys(TOPOLOGIES) as [TopologyKey, ...TopologyKey[]]
