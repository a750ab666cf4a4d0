import { TOPOLOGIES } from '../topologies/index.ts'
import type { GivenComponent } from './schema/component.ts'
import type { GivenOption } from './schema/option.ts'
import type { Draft } from './schema/walk.ts'

/** A site as far as it is needed to count panels. */
interface Roof {
  readonly panels?: number | undefined
  readonly generation?:
    | { readonly arrays?: readonly ({ readonly panels?: number | undefined } | undefined)[] | undefined }
    | undefined
}

/** Panels of a site: as given, else those of its arrays; undefined where neither is known. */
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
 * Units of a component: as given; else one a panel where the design puts one behind every panel; else 1.
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
