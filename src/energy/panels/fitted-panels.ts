import type { Option } from '../../scenario/model.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import { isOptimiser } from '../../topologies/kinds.ts'
import type { RoofYear } from '../roof-year.ts'

/**
 * Which panels have optimisers (E4): array × panel. All, none, as many as `optimisers_on` gives for each array, or,
 * where it gives none, as many as there are optimisers on the panels that lose most light of the roof. Within an array
 * the panels that lose most light come first.
 *
 * @param roof - the roof
 * @param option - the option
 * @returns true where a panel has an optimiser
 */
export function fittedPanels(roof: RoofYear, option: Option): boolean[][] {
  const { tracking } = TOPOLOGIES[option.topology]
  const { arrays } = roof.generation
  if (tracking !== 'some-optimisers') {
    return arrays.map(array => new Array<boolean>(array.panels).fill(tracking === 'all-optimisers'))
  }
  const ranked = panelsByLoss(roof)
  const left = new Map<number, number>()
  let any = option.populations.reduce((sum, p) => sum + (isOptimiser(p.kind) ? p.count : 0), 0)
  if (option.optimisersOn !== null) {
    for (const [index, array] of arrays.entries()) left.set(index, option.optimisersOn.get(array.name) ?? 0)
  }
  const fitted = arrays.map(array => new Array<boolean>(array.panels).fill(false))
  for (const { array, panel } of ranked) {
    const mayFit = option.optimisersOn === null ? any > 0 : (left.get(array) ?? 0) > 0
    const row = fitted[array]
    if (!mayFit || row === undefined) continue
    row[panel] = true
    any--
    left.set(array, (left.get(array) ?? 0) - 1)
  }
  return fitted
}

function panelsByLoss(roof: RoofYear): { array: number; panel: number; lost: number }[] {
  const { sky } = roof
  const lostOfClass = roof.classes.map(({ array, lightWM2 }) => {
    const unshaded = roof.arrays[array]?.unshadedLightWM2 ?? lightWM2
    const word = roof.wordLost[array]
    if (unshaded === lightWM2 && !word) return 0
    let lost = 0
    for (let step = 0; step < sky.nSteps; step++) {
      const kept = (lightWM2[step] ?? 0) * (1 - (word?.[sky.month[step] ?? 0] ?? 0))
      lost += ((unshaded[step] ?? 0) - kept) * (sky.hours[step] ?? 0)
    }
    return lost
  })
  return roof.classOfPanel
    .flatMap((ofPanel, array) => ofPanel.map((number, panel) => ({ array, panel, lost: lostOfClass[number] ?? 0 })))
    .sort((a, b) => b.lost - a.lost || a.array - b.array || a.panel - b.panel)
}
