/**
 * A topology. One file a topology; `index.ts` is the list; no other file names one.
 */
import { COMPONENT_KINDS, type ComponentKind, kindOf } from './kinds.ts'

/** How the panels of a topology are tracked: by string, each by a unit of its own, by optimisers on all or on some. */
export type Tracking = 'string' | 'panel' | 'all-optimisers' | 'some-optimisers'

/** One topology: what it needs, how its panels are tracked, what stops with an outage. */
export interface Topology {
  /** The word of a scenario file. */
  readonly key: string
  /** As the report names it, e.g. "one string inverter". */
  readonly label: string
  /** One sentence for a reader who has never heard of it. */
  readonly description: string
  /** Other words of the trade that a scenario may use; spelling, plural and hyphens do not matter. */
  readonly alsoCalled: readonly string[]
  /** Of each group at least one kind must be present. */
  readonly needs: readonly (readonly ComponentKind[])[]
  /** Further kinds it may list, in addition to those that may join any (kinds.ts). */
  readonly mayHave: readonly ComponentKind[]
  /** How the panels are tracked (E4–E6). */
  readonly tracking: Tracking
  /** Kind of which one unit belongs behind each panel; null: none. */
  readonly onEachPanel: ComponentKind | null
  /** Whether the battery is out of use while the inverter of the panels is down (O7). */
  readonly batteryNeedsInverter: boolean
}

/**
 * The kinds that a topology may list: those it needs, further ones it names, and those that may join any.
 *
 * @param topology - the topology
 */
export function kindsOf(topology: Topology): readonly ComponentKind[] {
  const joining = COMPONENT_KINDS.filter(kind => {
    const { joins } = kindOf(kind)
    return joins === 'all' || (joins === 'strings' && topology.tracking !== 'panel')
  })
  return [...topology.needs.flat(), ...topology.mayHave, ...joining]
}
