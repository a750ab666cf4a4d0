import type { PanelString } from './panel-string.ts'

/**
 * The strings of a tracker input as flat columns for the loop over a year (E4): what is constant, and what depends on
 * the light of the moment. Parts of string s lie at start[s] to start[s + 1] − 1.
 */
export interface LitStrings {
  readonly nStrings: number
  /** How many equal strings are connected in parallel, by string. */
  readonly times: Float64Array
  /** As strung: first part by string, one entry more than strings; then index of the light, panels, optimisers by part. */
  readonly strungStart: Int32Array
  readonly light: Int32Array
  readonly strungCount: Float64Array
  readonly strungOptimised: Uint8Array
  /** At this moment: the same, parts of equal light joined, with their light over 1000 W/m². */
  readonly start: Int32Array
  readonly suns: Float64Array
  readonly count: Float64Array
  readonly optimised: Uint8Array
  /** Largest number of parts in one string. */
  readonly mostParts: number
}

/**
 * The strings of an input as flat columns; their light is set by `lightUp`.
 *
 * @param strings - at least one, each with at least one part
 * @returns the strings without light
 */
export function litStrings(strings: readonly PanelString[]): LitStrings {
  const parts = strings.flatMap(string => string.parts)
  const start = new Int32Array(strings.length + 1)
  strings.forEach((string, index) => {
    start[index + 1] = (start[index] ?? 0) + string.parts.length
  })
  return {
    nStrings: strings.length,
    times: Float64Array.from(strings, string => string.times),
    strungStart: start,
    light: Int32Array.from(parts, part => part.light),
    strungCount: Float64Array.from(parts, part => part.count),
    strungOptimised: Uint8Array.from(parts, part => (part.optimised ? 1 : 0)),
    start: start.slice(),
    suns: new Float64Array(parts.length),
    count: new Float64Array(parts.length),
    optimised: new Uint8Array(parts.length),
    mostParts: Math.max(...strings.map(string => string.parts.length)),
  }
}

/**
 * Sets the light of a moment. Parts that get the same light are counted as one: shadows differ, but few fall at the same
 * time.
 *
 * @param strings - the strings
 * @param suns - light over 1000 W/m² by index
 */
export function lightUp(strings: LitStrings, suns: Float64Array): void {
  const { nStrings, strungStart, light, strungCount, strungOptimised, start, count, optimised } = strings
  const lit = strings.suns
  let end = 0
  for (let string = 0; string < nStrings; string++) {
    const first = end
    start[string] = first
    const last = strungStart[string + 1] ?? 0
    for (let part = strungStart[string] ?? 0; part < last; part++) {
      const sun = suns[light[part] ?? 0] ?? 0
      let same = first
      while (
        same < end &&
        (optimised[same] !== strungOptimised[part] || Math.abs((lit[same] ?? 0) - sun) > 1e-6 * sun)
      ) {
        same++
      }
      if (same === end) {
        lit[end] = sun
        count[end] = strungCount[part] ?? 0
        optimised[end] = strungOptimised[part] ?? 0
        end++
      } else count[same] = (count[same] ?? 0) + (strungCount[part] ?? 0)
    }
  }
  start[nStrings] = end
}
