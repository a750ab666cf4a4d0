import type { Option } from '../../scenario/model.ts'
import { isPanelInverter } from '../../topologies/kinds.ts'
import type { RoofYear } from '../roof-year.ts'
import { keptUnderShadeWord } from '../shade/shade-word.ts'
import { curveOf } from './conversion-curve.ts'
import type { Device, Harvest } from './device.ts'

/**
 * Harvest of panels that each have a unit of their own (E2, E4): no mismatch, each panel limited alone. Several
 * populations of units share the panels in proportion to their count.
 *
 * @param roof - the roof
 * @param option - an option with panel-level units
 * @returns one device entry a light class and population
 */
export function harvestByPanel(roof: RoofYear, option: Option): Harvest {
  const { figures, arrays } = roof.generation
  const nPanels = arrays.reduce((sum, array) => sum + array.panels, 0)
  const isUnit = option.populations.map(({ kind }) => isPanelInverter(kind))
  const nUnits = option.populations.reduce((sum, p, index) => sum + (isUnit[index] ? p.count : 0), 0)
  const devices: Device[] = []
  for (const panelClass of roof.classes) {
    const word = roof.wordLost[panelClass.array]
    const dcKw = word
      ? panelClass.panelKw.map((kw, step) => {
          const lost = word[roof.sky.month[step] ?? 0] ?? 0
          return kw * keptUnderShadeWord(lost, figures.shadeImpact, figures.shadeWordTouches, 1)
        })
      : panelClass.panelKw
    option.populations.forEach((population, index) => {
      if (!isUnit[index]) return
      // a unit that carries two panels limits them together; both get the same light here
      const perPanelKw = population.acKw === null ? null : (population.acKw * nUnits) / nPanels
      devices.push({
        population: index,
        units: (panelClass.panels.length * population.count) / nUnits,
        acKw: perPanelKw,
        curveKw: perPanelKw ?? (arrays[panelClass.array]?.panelW ?? 0) / 1000,
        curve: curveOf(population.kind, population.weightedEfficiency),
        harvestKw: dcKw,
        dcKw,
      })
    })
  }
  return {
    devices,
    populationShares: option.populations.map((population, index) => (isUnit[index] ? population.count / nUnits : null)),
  }
}
