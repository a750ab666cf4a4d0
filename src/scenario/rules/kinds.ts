import type { Problems } from '../../input/problems.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import { kindsOf } from '../../topologies/topology.ts'
import { MAX_UNITS } from '../schema/component.ts'
import { plain } from '../schema/leaf.ts'
import { panelsOf, unitsOf } from '../usual-parts.ts'
import type { ScenarioDraft } from './draft.ts'
import { componentsOf, isMonitor, type OptionPart, optionsOf } from './parts.ts'

/** Which kinds go together, who decides on monitoring (O2), and how many units one option may have. */
export function checkKinds(draft: ScenarioDraft, problems: Problems): void {
  const panels = panelsOf(draft.site)
  for (const part of optionsOf(draft)) {
    checkTopology(part, problems)
    if (componentsOf(part).some(isMonitor) && part.option.monitoring !== undefined)
      problems.add(
        [...part.path, 'monitoring'],
        '"monitoring" is given although there is a gateway, which decides it; drop one of the two',
      )
    const units = componentsOf(part).reduce((sum, { component }) => sum + unitsOf(component, part.option, panels), 0)
    if (units > MAX_UNITS)
      problems.add(
        [...part.path, 'components'],
        `found ${plain(units)} units; one option may have at most ${plain(MAX_UNITS)} units`,
      )
  }
}

function checkTopology(part: OptionPart, problems: Problems): void {
  const { option, path } = part
  if (option.topology === undefined || option.components === undefined) return
  const topology = TOPOLOGIES[option.topology]
  const components = componentsOf(part)
  const allowed = kindsOf(topology)
  for (const { component, path: at } of components)
    if (component.kind !== undefined && !allowed.includes(component.kind))
      problems.add(
        [...at, 'kind'],
        `"${component.kind}" does not go with topology "${topology.key}"; allowed: ${allowed.join(', ')}`,
      )
  // A kind that could not be read may be the one that seems to be missing.
  if (components.length < option.components.length || components.some(({ component }) => component.kind === undefined))
    return
  for (const group of topology.needs)
    if (!components.some(({ component }) => component.kind !== undefined && group.includes(component.kind)))
      problems.add(
        [...path, 'components'],
        `topology "${topology.key}" needs a component of kind ${group.join(' or ')}; add it, or change the kind of one that is listed`,
      )
}
