import type { RoofArray } from '../scenario/roof.ts'
import type { PanelString, StringPart } from './string-power.ts'

/** How the panels of one tracker input are strung. */
export interface InputStrings {
  /** Panels without optimisers, string by string; equal strings are one entry. */
  readonly strings: readonly PanelString[]
  /** Panels with optimisers, which give their own best whatever the others do. */
  readonly optimised: readonly StringPart[]
}

/** An array as the stringing sees it: which light class each panel belongs to, and which panels have optimisers. */
export interface StrungArray {
  readonly array: RoofArray
  /** Light class of each panel, an index common to all arrays. */
  readonly classOfPanel: readonly number[]
  readonly hasOptimiser: readonly boolean[]
}

/**
 * The strings of a tracker input (E4, E5). An array is cut into its strings in order of its panels. Arrays that share
 * the input stand side by side where their strings are equally long, else end to end in one string, unless `wiring`
 * says which.
 *
 * @param arrays - the arrays on the input, at least one
 * @param maxPanelsInString - used where an array does not say its strings
 * @returns strings and optimised panels
 */
export function stringsOfInput(arrays: readonly StrungArray[], maxPanelsInString: number): InputStrings {
  const nStringsOf = (strung: StrungArray): number =>
    Math.min(strung.array.panels, strung.array.strings ?? Math.ceil(strung.array.panels / maxPanelsInString))
  const first = arrays[0]
  const alike =
    first !== undefined && arrays.every(a => a.array.panels / nStringsOf(a) === first.array.panels / nStringsOf(first))
  const inSeries = arrays.filter(
    strung => arrays.length > 1 && (strung.array.wiring ?? (alike ? 'parallel' : 'series')) === 'series',
  )
  const sideBySide = arrays.filter(strung => !inSeries.includes(strung))
  const nJoined = Math.max(0, ...inSeries.map(nStringsOf))
  const all: { light: number; optimised: boolean }[][] = []
  if (nJoined > 0) {
    const joined = inSeries.map(strung => cut(strung, nJoined))
    for (let string = 0; string < nJoined; string++) all.push(joined.flatMap(parts => parts[string] ?? []))
  }
  for (const strung of sideBySide) all.push(...cut(strung, nStringsOf(strung)))
  const strings = new Map<string, PanelString>()
  for (const panels of all) {
    const parts = countByLight(panels.filter(panel => !panel.optimised).map(panel => panel.light))
    if (parts.length === 0) continue
    const name = parts.map(part => `${part.light}x${part.count}`).join()
    strings.set(name, { parts, times: (strings.get(name)?.times ?? 0) + 1 })
  }
  const optimised = countByLight(
    all
      .flat()
      .filter(panel => panel.optimised)
      .map(panel => panel.light),
  )
  return { strings: [...strings.values()], optimised }
}

function cut(strung: StrungArray, nStrings: number): { light: number; optimised: boolean }[][] {
  const strings: { light: number; optimised: boolean }[][] = Array.from({ length: nStrings }, () => [])
  strung.classOfPanel.forEach((light, panel) => {
    const string = Math.floor((panel * nStrings) / strung.classOfPanel.length)
    strings[string]?.push({ light, optimised: strung.hasOptimiser[panel] ?? false })
  })
  return strings
}

function countByLight(lights: readonly number[]): StringPart[] {
  const counts = new Map<number, number>()
  for (const light of lights) counts.set(light, (counts.get(light) ?? 0) + 1)
  return [...counts].sort(([a], [b]) => a - b).map(([light, count]) => ({ light, count }))
}
