/**
 * What a topology has to say of itself. One file a topology; `index.ts` is the list; nothing else names one.
 */

/** The kinds of component a scenario may list (design section 4). */
export const COMPONENT_KINDS = [
  'string-inverter',
  'hybrid-inverter',
  'panel-level-unit',
  'optimiser',
  'gateway',
  'battery',
  'battery-inverter',
] as const

/** One of the kinds of component. */
export type ComponentKind = (typeof COMPONENT_KINDS)[number]

/** How the panels of a topology are tracked: by string, each by a unit of its own, by optimisers on all or on some. */
export type Tracking = 'string' | 'panel' | 'all-optimisers' | 'some-optimisers'

/** One topology: what it needs, how it harvests, what an outage takes with it. */
export interface Topology {
  /** The word of a scenario file. */
  readonly key: string
  /** As the report names it, e.g. "one string inverter". */
  readonly label: string
  /** One sentence for a reader who has never heard of it. */
  readonly description: string
  /** Of each group at least one kind must be present. */
  readonly needs: readonly (readonly ComponentKind[])[]
  /** Kinds that may stand beside them. */
  readonly mayHave: readonly ComponentKind[]
  /** How the panels are tracked (E4–E6). */
  readonly tracking: Tracking
  /** Whether the battery is dead while the sun's inverter is down (O7). */
  readonly batteryNeedsInverter: boolean
}
