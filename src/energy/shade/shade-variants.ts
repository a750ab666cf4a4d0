import type { ArraysGeneration } from '../../scenario/roof.ts'
import { type RoofYear, roofYearShadedAs } from '../roof-year.ts'

/**
 * The same roof with another share of the shade loss recovered by tracking each panel (E4); it matters only where shade
 * is given in a word. Panels tracked alone keep their loss; strings lose more or less.
 *
 * @param roof - the roof
 * @param recovered - share recovered, [0, 1)
 * @returns the roof; its light and its panels are unchanged
 */
export function withRecovered(roof: RoofYear, recovered: number): RoofYear {
  const { panel } = roof.generation.figures.shadeImpact
  return withImpact(roof, { panel, string: panel / (1 - recovered) })
}

/**
 * The same roof where a shade given in words falls on no panel that is tracked alone.
 *
 * @param roof - the roof
 * @returns the roof; its light and its panels are unchanged
 */
export function withoutRecovery(roof: RoofYear): RoofYear {
  const { string } = roof.generation.figures.shadeImpact
  return withImpact(roof, { panel: string, string })
}

/**
 * The same roof with its shadows moved along each array, past the panels counted from the first one in shadow, as far
 * as the array extends.
 *
 * @param roof - the roof
 * @param panelsAway - by how many panels, an entry an array
 * @returns the roof under the same light
 */
export function withShadeMoved(roof: RoofYear, panelsAway: readonly number[]): RoofYear {
  const arrays = roof.generation.arrays.map((array, index) => {
    const away = panelsAway[index] ?? 0
    const windows = array.shade.windows.map(window => {
      const last = array.panels - window.panels
      const after = window.firstPanel + away
      // where the array ends too soon, the shadow moves the other way
      return { ...window, firstPanel: after <= last ? after : Math.max(0, window.firstPanel - away) }
    })
    return { ...array, shade: { ...array.shade, windows } }
  })
  return roofYearShadedAs(roof, { ...roof.generation, arrays })
}

function withImpact(roof: RoofYear, shadeImpact: ArraysGeneration['figures']['shadeImpact']): RoofYear {
  return {
    ...roof,
    generation: { ...roof.generation, figures: { ...roof.generation.figures, shadeImpact } },
  }
}
