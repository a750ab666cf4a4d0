/** Bounds on the light that is counted as coming from the sun's disc (E1). */

/** Sine of the height under which the sun's disc is not counted as such, 3 degrees: ours, as roofs and trees reach that height. */
export const LOWEST_SUN = Math.sin((3 * Math.PI) / 180)

/** Most light from the sun's disc that reaches the ground, W/m²: ours, a bound against faulty splits. */
const MOST_DIRECT_WM2 = 1100

/**
 * Diffuse light after the two bounds on the sun's disc: low sun counts as diffuse, and no more than 1,100 W/m² comes
 * from the disc.
 *
 * @param ghiWM2 - global horizontal irradiance
 * @param dhiWM2 - diffuse part before the bounds
 * @param cosZenith - of the sun, > 0
 * @returns W/m², [0, ghiWM2]
 */
export function boundedDiffuse(ghiWM2: number, dhiWM2: number, cosZenith: number): number {
  if (cosZenith < LOWEST_SUN) return ghiWM2
  return Math.min(ghiWM2, Math.max(0, dhiWM2, ghiWM2 - MOST_DIRECT_WM2 * cosZenith))
}
