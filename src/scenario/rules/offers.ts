import { findFigure } from '../../evidence/index.ts'
import type { Problems } from '../../input/problems.ts'
import { evidenceRow } from '../../topologies/kinds.ts'
import type { ScenarioDraft } from './draft.ts'
import { type OptionPart, optionsOf } from './parts.ts'

/** An offer is longer than the present term of its component, and at most one per component is taken (W6). */
export function checkOffers(draft: ScenarioDraft, problems: Problems): void {
  for (const part of optionsOf(draft)) checkOption(part, problems)
}

function checkOption({ option, path }: OptionPart, problems: Problems): void {
  const taken = new Set<number>()
  const components = option.components ?? []
  for (const [index, offer] of (option.warranty_offers ?? []).entries()) {
    if (offer === undefined) continue
    const at = [...path, 'warranty_offers', index]
    const kinds = components.map(component => component?.kind)
    const place = offer.component === undefined ? 0 : kinds.indexOf(offer.component)
    if (place < 0) {
      if (!kinds.includes(undefined))
        problems.add([...at, 'component'], `the option has no ${offer.component}; it has ${kinds.join(', ')}`)
      continue
    }
    const present = presentYears(components[place])
    if (offer.years !== undefined && present !== null && offer.years <= present)
      problems.add(
        [...at, 'years'],
        `found ${years(offer.years)}; the present term is ${years(present)} already: an offer must be longer`,
      )
    if (offer.taken !== true) continue
    if (taken.has(place))
      problems.add([...at, 'taken'], 'another offer for this component is taken already; at most one may be')
    taken.add(place)
  }
}

type Component = NonNullable<OptionPart['option']['components']>[number]

function presentYears(component: Component): number | null {
  if (component?.warranty?.years !== undefined) return component.warranty.years
  if (component?.kind === undefined) return null
  return findFigure(evidenceRow(component.kind, component.tier), 'warranty.years')?.value ?? null
}

function years(term: number): string {
  return `${term} ${term === 1 ? 'year' : 'years'}`
}
