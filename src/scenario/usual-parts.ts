import { findFigure } from '../evidence/index.ts'
import type { Problems } from '../input/problems.ts'
import { TOPOLOGIES } from '../topologies/index.ts'
import { isCentralInverter } from '../topologies/kinds.ts'
import type { GivenComponent } from './schema/component.ts'
import type { GivenOption } from './schema/option.ts'
import type { GivenScenario } from './schema/scenario.ts'
import type { Draft } from './schema/walk.ts'

/** A site as far as it is needed to count panels. */
interface Roof {
  readonly panels?: number | undefined
  readonly generation?:
    | { readonly arrays?: readonly ({ readonly panels?: number | undefined } | undefined)[] | undefined }
    | undefined
}

/** Panels of a site: as told, else those of its arrays; undefined where neither is known. */
export function panelsOf(site: Roof | undefined): number | undefined {
  return site?.panels ?? panelsOfArrays(site)
}

/** Panels of all arrays together; undefined where there are none or one could not be read. */
export function panelsOfArrays(site: Roof | undefined): number | undefined {
  const counts = site?.generation?.arrays?.map(array => array?.panels)
  if (counts === undefined || counts.length === 0) return undefined
  let sum = 0
  for (const count of counts) {
    if (count === undefined) return undefined
    sum += count
  }
  return sum
}

/**
 * Units of a component: as told; else one a panel where the design puts one behind every panel; else 1.
 *
 * @param component - as written
 * @param option - the option it belongs to
 * @param panels - panels of the site; undefined where they are not known
 */
export function unitsOf(
  component: Draft<GivenComponent>,
  option: Draft<GivenOption>,
  panels: number | undefined,
): number {
  if (component.count !== undefined) return component.count
  return onePerPanel(component, option) ? (panels ?? 1) : 1
}

/** Whether a component, by its kind and the design, is one unit behind each panel. */
export function onePerPanel(component: Draft<GivenComponent>, option: Draft<GivenOption>): boolean {
  if (component.share !== undefined) return false
  const alike = option.components?.filter(other => other?.kind === component.kind).length ?? 0
  const kind = option.topology === undefined ? null : TOPOLOGIES[option.topology].onEachPanel
  return alike === 1 && component.kind === kind
}

/**
 * Rating of one inverter where none is told, for nothing but the price of its parts: so much a panel, shared among
 * the inverters of the option.
 *
 * @param option - as written
 * @param panels - panels of the site
 * @returns kW to two digits; null where the panels are not known
 */
export function usualAcKw(option: Draft<GivenOption>, panels: number | undefined): number | null {
  const perPanel = findFigure(null, 'ac_kw_per_panel')
  const inverters = (option.components ?? [])
    .filter(one => isCentralInverter(one?.kind))
    .reduce((sum, one) => sum + (one?.count ?? 1), 0)
  if (perPanel === null || panels === undefined || inverters === 0) return null
  return Number(((perPanel.value * panels) / inverters).toPrecision(2))
}

/**
 * A scenario as parsed, where each option that lists no components has those its topology cannot do without.
 *
 * @param value - plain data, of any shape
 * @returns the same where there is nothing to add; never changed in place
 */
export function withUsualParts(value: unknown): unknown {
  if (!isTable(value) || !Array.isArray(value.options)) return value
  return { ...value, options: value.options.map(withParts) }
}

/**
 * A scenario in which the warranty that stands with an option, as in a quote, has gone to its first component.
 *
 * @param draft - as read; each option has its components
 * @param problems - takes options whose first component has terms of its own as well
 */
export function withQuotedWarranty(draft: Draft<GivenScenario>, problems: Problems): Draft<GivenScenario> {
  const options = draft.options?.map((option, at) => {
    const [first, ...others] = option?.components ?? []
    if (option?.warranty === undefined || first === undefined) return option
    if (first.warranty !== undefined) {
      problems.add(['options', at, 'warranty'], 'the first component has a warranty of its own; keep one of the two')
      return option
    }
    return { ...option, components: [{ ...first, warranty: option.warranty }, ...others] }
  })
  return options === undefined ? draft : { ...draft, options }
}

function withParts(option: unknown): unknown {
  if (!isTable(option) || (option.components !== undefined && option.components !== null)) return option
  const topology = Object.values(TOPOLOGIES).find(known => known.key === option.topology)
  // The topology alone is then wrong: something free of questions stands in for what it would need.
  if (topology === undefined) return { ...option, components: [{ kind: 'gateway', replacement: { parts: 0 } }] }
  // Which panels carry optimisers has to be told.
  if (topology.tracking === 'some-optimisers') return option
  return { ...option, components: topology.needs.map(([kind]) => ({ kind })) }
}

/** Whether a parsed value is a block of keys. */
export function isTable(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
