import type { RoofArray, RoofFigures } from '../../scenario/roof.ts'
import type { SkyYear } from '../sky/sky-columns.ts'
import { cosIncidence, RADIANS_PER_DEGREE } from '../sky/sun-position.ts'
import { incidenceAngleModifier } from './incidence-angle-modifier.ts'
import { HDKR, planeOfArrayIrradiance } from './transposition.ts'

/** Light that the panels of an array take in, W/m², one value a step (E1). */
export interface PlaneYear {
  /** From the direction of the sun: what a shadow can take away. */
  readonly beamWM2: Float64Array
  /** From sky and ground. */
  readonly diffuseWM2: Float64Array
}

/**
 * Light taken in by the panels of an array through the year (E1).
 *
 * @param sky - irradiance on a horizontal surface
 * @param array - tilt and bearing
 * @param figures - ground, glass
 * @returns two columns
 */
export function planeYear(sky: SkyYear, array: RoofArray, figures: RoofFigures): PlaneYear {
  const tilt = array.tiltDegrees * RADIANS_PER_DEGREE
  const cosTilt = Math.cos(tilt)
  const beamWM2 = new Float64Array(sky.nSteps)
  const diffuseWM2 = new Float64Array(sky.nSteps)
  for (let step = 0; step < sky.nSteps; step++) {
    const cosZenith = sky.cosZenith[step] ?? 0
    const towards = cosIncidence(
      { cosZenith, azimuthDegrees: sky.sunAzimuthDegrees[step] ?? 0 },
      tilt,
      array.azimuthDegrees,
    )
    const light = planeOfArrayIrradiance(
      {
        global: sky.ghiWM2[step] ?? 0,
        diffuse: sky.dhiWM2[step] ?? 0,
        extraterrestrialNormal: sky.extraterrestrialNormalWM2[step] ?? 1,
      },
      cosZenith,
      towards,
      cosTilt,
      figures.groundReflectance,
      HDKR,
    )
    beamWM2[step] = light.beam * incidenceAngleModifier(towards, figures.incidenceCoefficient)
    diffuseWM2[step] = light.diffuse * figures.diffuseTaken
  }
  return { beamWM2, diffuseWM2 }
}
