import type { RoofArray } from '../../scenario/roof.ts'
import type { PanelString, StringPart } from './panel-string.ts'

/** An array as its strings need it: which light class each panel belongs to, and which panels have optimisers. */
export interface StrungArray {
  readonly array: RoofArray
  /** Light class of each panel, an index common to all arrays. */
  readonly classOfPanel: readonly number[]
  readonly hasOptimiser: readonly boolean[]
}

/**
 * The strings of a tracker input (E4, E5). An array is cut into its strings in order of its panels. Arrays that share
 * the input are connected in parallel where their strings are equally long, else end to end in one string, unless
 * `wiring` states it.
 *
 * @param arrays - the arrays on the input, at least one
 * @param maxPanelsInString - used where an array does not state its strings
 * @returns strings, equal ones counted in one entry
 */
export function stringsOfInput(arrays: readonly StrungArray[], maxPanelsInString: number): PanelString[] {
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
    const parts = countParts(panels)
    const name = parts.map(part => `${part.light}${part.optimised ? 'o' : '-'}${part.count}`).join()
    strings.set(name, { parts, times: (strings.get(name)?.times ?? 0) + 1 })
  }
  return [...strings.values()]
}

function cut(strung: StrungArray, nStrings: number): { light: number; optimised: boolean }[][] {
  const strings: { light: number; optimised: boolean }[][] = Array.from({ length: nStrings }, () => [])
  strung.classOfPanel.forEach((light, panel) => {
    const string = Math.floor((panel * nStrings) / strung.classOfPanel.length)
    strings[string]?.push({ light, optimised: strung.hasOptimiser[panel] ?? false })
  })
  return strings
}

function countParts(panels: readonly { readonly light: number; readonly optimised: boolean }[]): StringPart[] {
  const parts = new Map<string, { light: number; optimised: boolean; count: number }>()
  for (const { light, optimised } of panels) {
    const name = `${light}${optimised}`
    const part = parts.get(name) ?? { light, optimised, count: 0 }
    part.count++
    parts.set(name, part)
  }
  return [...parts.values()].sort((a, b) => a.light - b.light || Number(a.optimised) - Number(b.optimised))
}
