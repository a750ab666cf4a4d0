import type { Option } from '../scenario/model.ts'
import { hangsOnString, isCentralInverter } from '../topologies/kinds.ts'

/**
 * Share of generation behind each string, in the order in which units are assigned to them (O4).
 *
 * @param option - the option
 * @param shares - from `unitShares`
 * @returns one share a string; empty where no unit is on one
 */
export function stringShares(option: Option, shares: Float64Array): Float64Array {
  if (!option.populations.some(({ kind }) => hangsOnString(kind))) return new Float64Array(0)
  const strings: number[] = []
  for (const { kind, count, strings: each, place } of option.populations) {
    if (!isCentralInverter(kind)) continue
    for (let i = 0; i < count * each; i++) strings.push((shares[place] ?? 0) / each)
  }
  return Float64Array.from(strings)
}
