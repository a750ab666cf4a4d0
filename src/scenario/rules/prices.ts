import { EVIDENCE_CURRENCY, type EvidenceFigure } from '../../evidence/figure.ts'
import { figureOf, findFigure } from '../../evidence/index.ts'
import type { KeyPath, Problems } from '../../input/problems.ts'
import { evidenceRow, isCentralInverter } from '../../topologies/kinds.ts'
import { partSize, SIZE_KEYS, sizeUnit } from '../complete/part-size.ts'
import { DEFAULT_CURRENCY, priceFactor } from '../complete/price-factor.ts'
import { panelsOf } from '../usual-parts.ts'
import type { ScenarioDraft } from './draft.ts'
import { type ComponentPart, componentsOf, isOnRoof, needsVisit, optionsOf } from './parts.ts'

/** A missing price is an error that shows the typical figure, unless `prices_from_evidence` fills it. */
export function checkPrices(draft: ScenarioDraft, problems: Problems): void {
  const filled = draft.prices_from_evidence !== undefined || problems.touches(['prices_from_evidence'])
  const currency = draft.currency ?? DEFAULT_CURRENCY
  if (draft.prices_from_evidence === true && priceFactor(draft) === null)
    problems.add(
      ['prices_from_evidence'],
      `the evidence knows no rate for ${currency}; write prices_from_evidence: {factor: 1.5}, with what one USD costs in ${currency} in place of 1.5`,
    )
  const advice =
    priceFactor({ currency, prices_from_evidence: true }) === null
      ? 'prices_from_evidence: {factor: price of 1 USD}'
      : 'prices_from_evidence: yes'
  const components = optionsOf(draft).flatMap(componentsOf)
  const panels = panelsOf(draft.site)
  for (const part of components) {
    checkPrice(part, 'parts', panels, filled ? null : advice, problems)
    if (needsVisit(part.component)) checkPrice(part, 'labour', panels, filled ? null : advice, problems)
  }
  if (filled) return
  const visited = components.filter(({ component }) => needsVisit(component))
  const need = (key: 'call_out' | 'roof_access') => {
    const path = ['visit', key]
    const figure = findFigure(null, `visit.${key}`)
    if (draft.visit?.[key] === undefined && !problems.touches(path) && figure !== null)
      missing(path, typical(figure, null), advice, problems)
  }
  if (visited.length > 0) need('call_out')
  if (visited.some(({ component }) => isOnRoof(component))) need('roof_access')
}

function checkPrice(
  part: ComponentPart,
  key: 'parts' | 'labour',
  panels: number | undefined,
  /** How to have usual prices filled in; null: they are. */
  advice: string | null,
  problems: Problems,
): void {
  const { component, option, path } = part
  const at = [...path, 'replacement', key]
  if (component.kind === undefined || component.replacement?.[key] !== undefined || problems.touches(at)) return
  const figure = figureOf(evidenceRow(component.kind, component.tier), `replacement.${key}`)
  const pricedBy = sizeUnit(figure)
  const size = pricedBy === null ? null : partSize(pricedBy, component, option, panels)
  if (advice !== null) missing(at, typical(figure, size?.estimatedFrom === null ? size.value : null), advice, problems)
  else if (pricedBy !== null && size === null && !problems.touches([...path, 'ac_kw']))
    problems.add(
      at,
      `missing; the evidence has ${typical(figure, null)}: give "${SIZE_KEYS[pricedBy]}"${isCentralInverter(component.kind) ? ', this price or site.panels' : ' or this price'}`,
    )
}

function missing(path: KeyPath, figure: string, advice: string, problems: Problems): void {
  problems.add(path, `missing; typical is ${figure}. Write your price, or take usual ones: ${advice}`)
}

function typical(figure: EvidenceFigure, size: number | null): string {
  const pricedBy = sizeUnit(figure)
  if (pricedBy === null) return `${figure.value} ${EVIDENCE_CURRENCY}`
  const each = `${figure.value} ${EVIDENCE_CURRENCY} a ${pricedBy}`
  return size === null ? each : `${Number((figure.value * size).toFixed(2))} ${EVIDENCE_CURRENCY} (${each})`
}
