import type { Option, Site } from '../scenario/model.ts'
import type { Household } from './meter.ts'
import { fittedPanels } from './panels/fitted-panels.ts'
import { deliveredKwh, optionOnRoof } from './roof-energy.ts'
import type { RoofYear } from './roof-year.ts'
import { withoutRecovery, withShadeMoved } from './shade/shade-variants.ts'

/** Delivered energy of year 0 with optimisers on other panels, and with the shade moved; kWh. */
export interface OptimiserFindings {
  /** Panels fitted, by array. */
  readonly fitted: readonly { readonly array: string; readonly panels: number }[]
  readonly asFittedKwh: number
  readonly allInsteadKwh: number
  readonly noneInsteadKwh: number
  /** The shade moves along the array onto panels without optimisers, as when trees grow or a neighbour builds. */
  readonly shadeMovedKwh: number
  readonly shadeMovedAllInsteadKwh: number
}

/**
 * What an option with optimisers on some panels would deliver with them on all or none, and if the shade moved (E4,
 * E6). A shade that moved falls on no fitted panel: windows move along the array, shade in a word loses what tracking
 * recovers.
 *
 * @param roof - the roof
 * @param household - the load
 * @param site - network
 * @param option - the option
 * @returns energies of year 0
 */
export function optimiserFindings(roof: RoofYear, household: Household, site: Site, option: Option): OptimiserFindings {
  const fitted = fittedPanels(roof, option)
  const all = fitted.map(row => row.map(() => true))
  const none = fitted.map(row => row.map(() => false))
  const counts = fitted.map(row => row.filter(Boolean).length)
  const moved = withShadeMoved(roof, counts)
  const delivered = (year: RoofYear, rows: readonly (readonly boolean[])[]): number =>
    deliveredKwh(year, optionOnRoof(year, household, site, option, rows))
  return {
    fitted: roof.generation.arrays.flatMap(({ name }, index) => {
      const panels = counts[index] ?? 0
      return panels === 0 ? [] : [{ array: name, panels }]
    }),
    asFittedKwh: delivered(roof, fitted),
    allInsteadKwh: delivered(roof, all),
    noneInsteadKwh: delivered(roof, none),
    shadeMovedKwh: delivered(withoutRecovery(moved), fitted),
    shadeMovedAllInsteadKwh: delivered(moved, all),
  }
}
