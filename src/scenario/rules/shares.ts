import type { Problems } from '../../input/problems.ts'
import { isCentralInverter, isOptimiser, sharingKinds } from '../../topologies/kinds.ts'
import { panelsOf } from '../usual-parts.ts'
import type { ScenarioDraft } from './draft.ts'
import { componentsOf, type OptionPart, optionsOf } from './parts.ts'

/** The share of generation of each population is given or can be derived (O4), and losses take at most 95 %. */
export function checkShares(draft: ScenarioDraft, problems: Problems): void {
  const panels = panelsOf(draft.site)
  for (const part of optionsOf(draft)) {
    checkOptimisers(part, panels, problems)
    checkRatings(part, problems)
    checkSums(part, problems)
    const losses = part.option.design_losses
    const lost = (losses?.mismatch_and_shade ?? 0) + (losses?.clipping ?? 0) + (losses?.conversion ?? 0)
    if (lost > 0.95)
      problems.add(
        [...part.path, 'design_losses'],
        `the losses add up to ${percent(lost)}; together they may take at most 95%`,
      )
  }
}

function checkOptimisers(part: OptionPart, panels: number | undefined, problems: Problems): void {
  for (const { component, path } of componentsOf(part)) {
    if (!isOptimiser(component.kind) || component.share !== undefined || problems.touches([...path, 'share'])) continue
    if (panels === undefined) {
      if (part.option.topology === 'string-some-optimisers' && !problems.touches(['site', 'panels']))
        problems.add(
          [...path, 'share'],
          'missing; optimisers on some panels need "share" here, or the number of panels in site.panels',
        )
    } else if ((component.count ?? 1) > panels)
      problems.add([...path, 'count'], `found ${component.count} optimisers on ${panels} panels; allowed: one a panel`)
  }
}

function checkRatings(part: OptionPart, problems: Problems): void {
  const inverters = componentsOf(part).filter(({ component }) => isCentralInverter(component.kind))
  const rated = inverters.filter(({ component }) => component.ac_kw !== undefined)
  if (rated.length === 0) return
  for (const { component, path } of inverters)
    if (component.ac_kw === undefined && component.share === undefined && !problems.touches([...path, 'ac_kw']))
      problems.add(
        [...path, 'ac_kw'],
        'missing; inverters of one option share the energy by their rating: give "ac_kw" to all of them, or "share"',
      )
}

function checkSums(part: OptionPart, problems: Problems): void {
  for (const kinds of sharingKinds()) {
    const shares = componentsOf(part)
      .filter(({ component }) => component.kind !== undefined && kinds.includes(component.kind))
      .reduce((sum, { component }) => sum + (component.share ?? 0), 0)
    if (shares > 1 + 1e-9)
      problems.add(
        [...part.path, 'components'],
        `the shares of ${kinds.join(' and ')} add up to ${percent(shares)}; allowed: at most 100%`,
      )
  }
}

function percent(share: number): string {
  return `${Number((share * 100).toFixed(1))}%`
}
