import { sumOf } from '../../numerics/sum.ts'
import { MONTHS_PER_YEAR } from '../../units.ts'
import type { SkyYear } from '../sky/sky-columns.ts'
import { LOWEST_SUN } from '../sky/sun-bounds.ts'

/**
 * Share of each month's light that shade given in words takes (E4): more where the sun is low, in proportion to the
 * mean of 1/sin(height), such that the year's energy loses the share of the word. The weight by month is ours.
 *
 * @param sky - irradiance on a horizontal surface
 * @param unshadedKw - power without shade, a value a step
 * @param share - of the year's energy, [0, 1)
 * @returns twelve shares, [0, 1]
 */
export function shadeWordByMonth(sky: SkyYear, unshadedKw: Float64Array, share: number): Float64Array {
  const kwh = new Float64Array(MONTHS_PER_YEAR)
  const lowness = new Float64Array(MONTHS_PER_YEAR)
  const hours = new Float64Array(MONTHS_PER_YEAR)
  for (let step = 0; step < sky.nSteps; step++) {
    const month = sky.month[step] ?? 0
    const stepHours = sky.hours[step] ?? 0
    kwh[month] = (kwh[month] ?? 0) + (unshadedKw[step] ?? 0) * stepHours
    lowness[month] = (lowness[month] ?? 0) + stepHours / Math.max(LOWEST_SUN, sky.cosZenith[step] ?? 1)
    hours[month] = (hours[month] ?? 0) + stepHours
  }
  const mean = lowness.map((sum, month) => ((hours[month] ?? 0) > 0 ? sum / (hours[month] ?? 1) : 0))
  const year = sumOf(kwh)
  const weighted = kwh.reduce((sum, value, month) => sum + value * (mean[month] ?? 0), 0)
  if (weighted <= 0) return new Float64Array(MONTHS_PER_YEAR)
  return mean.map(value => Math.min(1, (share * value * year) / weighted))
}

/**
 * Share of power that survives shade given in words (E4): 1 − impact × share of light taken. Panels tracked alone have
 * the lower impact; where only some are, the shadow is taken to fall on those first.
 *
 * @param lightLost - share of the light taken, [0, 1]
 * @param impact - loss of power over loss of light: of strings, of panels tracked alone
 * @param touches - share of the array's panels the shade touches, (0, 1]
 * @param trackedShare - share of the array's panels that are tracked alone, [0, 1]
 * @returns share kept, [0, 1]
 * @source shade impact factor: Deline (2009), Partially shaded operation of a grid-tied PV system, 34th IEEE
 *   Photovoltaic Specialists Conference
 */
export function keptUnderShadeWord(
  lightLost: number,
  impact: { readonly string: number; readonly panel: number },
  touches: number,
  trackedShare: number,
): number {
  const recovered = Math.min(1, trackedShare / touches)
  return Math.max(0, 1 - lightLost * (impact.string - (impact.string - impact.panel) * recovered))
}
