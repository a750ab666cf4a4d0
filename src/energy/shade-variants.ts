import type { ArraysGeneration } from '../scenario/roof.ts'

/**
 * The same roof with another share of the shade loss won back by tracking each panel (E4); it matters only where shade
 * is told in a word. Panels tracked alone keep their loss; strings lose more or less.
 *
 * @param generation - the roof
 * @param recovered - share won back, [0, 1)
 */
export function withRecovered(generation: ArraysGeneration, recovered: number): ArraysGeneration {
  const { panel } = generation.figures.shadeImpact
  return withImpact(generation, { panel, string: panel / (1 - recovered) })
}

/**
 * The same roof where a shade told in a word meets no panel that is tracked alone.
 *
 * @param generation - the roof
 */
export function withoutRecovery(generation: ArraysGeneration): ArraysGeneration {
  const { string } = generation.figures.shadeImpact
  return withImpact(generation, { panel: string, string })
}

/**
 * The same roof with its shadows moved along each array, past the panels counted from the first one in shadow, as far
 * as the array goes.
 *
 * @param generation - the roof
 * @param panelsAway - by how many panels, an entry an array
 */
export function withShadeMoved(generation: ArraysGeneration, panelsAway: readonly number[]): ArraysGeneration {
  return {
    ...generation,
    arrays: generation.arrays.map((array, index) => {
      const away = panelsAway[index] ?? 0
      const windows = array.shade.windows.map(window => {
        const last = array.panels - window.panels
        const after = window.firstPanel + away
        // where the array ends too soon, the shadow goes the other way
        return { ...window, firstPanel: after <= last ? after : Math.max(0, window.firstPanel - away) }
      })
      return { ...array, shade: { ...array.shade, windows } }
    }),
  }
}

function withImpact(
  generation: ArraysGeneration,
  shadeImpact: ArraysGeneration['figures']['shadeImpact'],
): ArraysGeneration {
  return { ...generation, figures: { ...generation.figures, shadeImpact } }
}
