import type { ArraysGeneration } from '../scenario/roof.ts'
import { type ArrayYear, arrayYear, type PanelClass } from './panel-classes.ts'
import { planeYear } from './plane-year.ts'
import { shadeWordByMonth } from './shade-word.ts'
import type { SkyYear } from './sky-columns.ts'
import { skyYear } from './sky-year.ts'

/** A year of light and power on a roof, the same for every option. */
export interface RoofYear {
  readonly generation: ArraysGeneration
  readonly sky: SkyYear
  readonly arrays: readonly ArrayYear[]
  /** The classes of all arrays in one list; `classOfPanel` points into it. */
  readonly classes: readonly PanelClass[]
  /** Array × panel: index of its class. */
  readonly classOfPanel: readonly (readonly number[])[]
  /** Array × month: share of light that a word for shade takes; null: no word. */
  readonly wordLost: readonly (Float64Array | null)[]
  /** What the roof could give without shade, mismatch and conversion, kW of DC, a value a step (C7). */
  readonly idealKw: Float64Array
}

/**
 * A year on a roof, from sun to the power of single panels (E1, E4, E7).
 *
 * @param generation - location and arrays
 * @returns the year
 */
export function roofYear(generation: ArraysGeneration): RoofYear {
  const { figures } = generation
  const sky = skyYear(generation.location, figures)
  const arrays = generation.arrays.map((array, index) =>
    arrayYear(sky, planeYear(sky, array, figures), array, index, generation.lossesShare, figures),
  )
  const classes = arrays.flatMap(array => array.classes)
  const classOfPanel = generation.arrays.map((array, index) => {
    const ofPanel = new Array<number>(array.panels).fill(0)
    classes.forEach((panelClass, number) => {
      if (panelClass.array === index) for (const panel of panelClass.panels) ofPanel[panel] = number
    })
    return ofPanel
  })
  const wordLost = generation.arrays.map((array, index) => {
    const unshaded = arrays[index]?.unshadedPanelKw
    if (array.shade.word === null || unshaded === undefined) return null
    return shadeWordByMonth(sky, unshaded, figures.shadeWordShare[array.shade.word])
  })
  const idealKw = new Float64Array(sky.nSteps)
  generation.arrays.forEach((array, index) => {
    arrays[index]?.unshadedPanelKw.forEach((kw, step) => {
      idealKw[step] = (idealKw[step] ?? 0) + array.panels * kw
    })
  })
  return { generation, sky, arrays, classes, classOfPanel, wordLost, idealKw }
}
