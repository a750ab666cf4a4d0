import { MONTHS_PER_YEAR } from '../../units.ts'
import type { RoofYear } from '../roof-year.ts'

const HOURS = 24

/** Share of the roof's light taken by shade, [0, 1], by calendar month (January first) and hour of solar time; null in the dark. */
export type ShadeMap = readonly (readonly (number | null)[])[]

/**
 * When shade takes light from the roof (E4), all arrays together, each by its rated power.
 *
 * @param roof - the roof
 * @returns twelve rows of 24; null where no shade is given
 */
export function shadeMap(roof: RoofYear): ShadeMap | null {
  const { sky, generation } = roof
  const isGiven = generation.arrays.some(
    ({ shade }) => shade.word !== null || shade.windows.length > 0 || shade.horizon.length > 0,
  )
  if (!isGiven) return null
  const open = new Float64Array(MONTHS_PER_YEAR * HOURS)
  const taken = new Float64Array(MONTHS_PER_YEAR * HOURS)
  for (const { array, panels, lightWM2 } of roof.classes) {
    const unshaded = roof.arrays[array]?.unshadedLightWM2 ?? lightWM2
    const word = roof.wordLost[array]
    const rating = panels.length * (generation.arrays[array]?.panelW ?? 0)
    for (let step = 0; step < sky.nSteps; step++) {
      const month = sky.month[step] ?? 0
      const at = month * HOURS + Math.min(HOURS - 1, Math.max(0, Math.floor(sky.solarHour[step] ?? 0)))
      const weight = rating * (sky.hours[step] ?? 0)
      const kept = (lightWM2[step] ?? 0) * (1 - (word?.[month] ?? 0))
      open[at] = (open[at] ?? 0) + weight * (unshaded[step] ?? 0)
      taken[at] = (taken[at] ?? 0) + weight * ((unshaded[step] ?? 0) - kept)
    }
  }
  return Array.from({ length: MONTHS_PER_YEAR }, (_, month) =>
    Array.from({ length: HOURS }, (_, hour) => {
      const light = open[month * HOURS + hour] ?? 0
      return light > 0 ? (taken[month * HOURS + hour] ?? 0) / light : null
    }),
  )
}
