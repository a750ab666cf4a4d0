/** Bounds on the light that is counted as coming from the sun's disc (E1). */

/** Sine of the height under which the sun's disc is not counted as such, 3 degrees: ours, as roofs and trees stand there. */
export const LOWEST_SUN = Math.sin((3 * Math.PI) / 180)

/** Most light from the sun's disc that reaches the ground, W/m²: ours, a bound against faulty splits. */
const MOST_DIRECT_WM2 = 1100

/**
 * Diffuse light after the two bounds on the sun's disc: low sun counts as diffuse, and no more than 1,100 W/m² comes
 * from the disc.
 *
 * @param globalWM2 - light on the flat
 * @param diffuseWM2 - diffuse part before the bounds
 * @param cosZenith - of the sun, > 0
 * @returns W/m², [0, globalWM2]
 */
export function boundedDiffuse(globalWM2: number, diffuseWM2: number, cosZenith: number): number {
  if (cosZenith < LOWEST_SUN) return globalWM2
  return Math.min(globalWM2, Math.max(0, diffuseWM2, globalWM2 - MOST_DIRECT_WM2 * cosZenith))
}
