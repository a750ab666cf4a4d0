/** From irradiance on a horizontal surface to plane-of-array irradiance (E1). */

import { power } from '../../numerics/power.ts'

/** Irradiance on a horizontal surface at one moment, in any one unit (W/m² here). */
export interface HorizontalIrradiance {
  readonly global: number
  readonly diffuse: number
  /** Sunshine above the air at right angles to the sun. */
  readonly extraterrestrialNormal: number
}

/** How the clear-sky part of the diffuse light is treated. */
export interface SkyModel {
  /** Whether the light around the sun is treated as coming from the sun (Hay and Davies). */
  readonly aroundSun: boolean
  /** Whether the sky near the horizon is brighter (Reindl). */
  readonly brightHorizon: boolean
}

/**
 * Brighter around the sun and near the horizon; the one in use.
 *
 * @source Hay and Davies (1980), Klucher (1979), Reindl et al. (1990), as in Duffie and Beckman (2013), equation 2.16.7
 */
export const HDKR: SkyModel = { aroundSun: true, brightHorizon: true }

/** Plane-of-array irradiance. */
export interface PlaneIrradiance {
  /** From the direction of the sun: what a shadow can take away. */
  readonly beam: number
  /** From sky and ground. */
  readonly diffuse: number
}

/**
 * Plane-of-array irradiance (E1).
 *
 * @param light - on a horizontal surface
 * @param cosZenith - of the sun, > 0
 * @param cosIncidence - between sun and plane; below 0 the plane sees no sun
 * @param cosTilt - of the plane
 * @param groundReflectance - share, [0, 1]
 * @param model - how the sky's light is spread
 * @returns in the unit of `light`
 */
export function planeOfArrayIrradiance(
  light: HorizontalIrradiance,
  cosZenith: number,
  cosIncidence: number,
  cosTilt: number,
  groundReflectance: number,
  model: SkyModel,
): PlaneIrradiance {
  const ratio = Math.max(0, cosIncidence) / cosZenith
  const beam = Math.max(0, light.global - light.diffuse)
  const anisotropy = model.aroundSun ? Math.min(1, beam / (light.extraterrestrialNormal * cosZenith)) : 0
  const halfTiltSine = Math.sqrt(Math.max(0, (1 - cosTilt) / 2))
  const horizon = model.brightHorizon && light.global > 0 ? Math.sqrt(beam / light.global) * power(halfTiltSine, 3) : 0
  return {
    beam: (beam + light.diffuse * anisotropy) * ratio,
    diffuse:
      light.diffuse * (1 - anisotropy) * ((1 + cosTilt) / 2) * (1 + horizon) +
      light.global * groundReflectance * ((1 - cosTilt) / 2),
  }
}
