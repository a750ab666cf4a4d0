import type { ArraysGeneration } from '../scenario/roof.ts'
import { type ArrayYear, arrayYear, type PanelClass } from './panels/panel-classes.ts'
import { type PlaneYear, planeYear } from './panels/plane-year.ts'
import { shadeWordByMonth } from './shade/shade-word.ts'
import type { SkyYear } from './sky/sky-columns.ts'
import { skyYear } from './sky/sky-year.ts'

/** A year of light and power on a roof, the same for every option. */
export interface RoofYear {
  readonly generation: ArraysGeneration
  readonly sky: SkyYear
  /** Plane-of-array irradiance of each array. */
  readonly planes: readonly PlaneYear[]
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

// The year of a roof is needed by the energies and by the report; it is played once.
const known = new WeakMap<ArraysGeneration, RoofYear>()

/**
 * A year on a roof, from sun to the power of single panels (E1, E4, E7).
 *
 * @param generation - location and arrays
 * @returns the year; the same object for the same roof
 */
export function roofYear(generation: ArraysGeneration): RoofYear {
  const played = known.get(generation)
  if (played !== undefined) return played
  const { figures } = generation
  const sky = skyYear(generation.location, figures)
  const planes = generation.arrays.map(array => planeYear(sky, array, figures))
  const year = underLight(generation, sky, planes)
  known.set(generation, year)
  return year
}

/**
 * A year on the same roof under the same light, with other shade (E4).
 *
 * @param roof - the roof as it is
 * @param generation - its arrays at the same places, shaded otherwise
 * @returns the year
 */
export function roofYearShadedAs(roof: RoofYear, generation: ArraysGeneration): RoofYear {
  return underLight(generation, roof.sky, roof.planes)
}

function underLight(generation: ArraysGeneration, sky: SkyYear, planes: readonly PlaneYear[]): RoofYear {
  const { figures } = generation
  const arrays = generation.arrays.flatMap((array, index) => {
    const plane = planes[index]
    return plane === undefined ? [] : [arrayYear(sky, plane, array, index, generation.lossesShare, figures)]
  })
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
    const panelKw = arrays[index]?.unshadedPanelKw
    if (panelKw === undefined) return
    for (let step = 0; step < sky.nSteps; step++) {
      idealKw[step] = (idealKw[step] ?? 0) + array.panels * (panelKw[step] ?? 0)
    }
  })
  return { generation, sky, planes, arrays, classes, classOfPanel, wordLost, idealKw }
}
