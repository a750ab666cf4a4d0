import { bestPower } from '../panels/module-curve.ts'
import { type LitStrings, lightUp } from './lit-strings.ts'
import { parallelPower } from './parallel-power.ts'
import { seriesPower } from './series-power.ts'

/**
 * Share of the power of panels tracked one by one that strings on a common tracker give (E4, E5), from their currents
 * and voltages. The tracker is taken to find the best point there is, which real ones may miss.
 *
 * @param strings - one: a common current; several: a common voltage; their light is set here
 * @param suns - light over 1000 W/m² by index
 * @returns share, [0, 1]; 1 where all panels get the same light and all strings are equally long
 */
export function sharedTrackerShare(strings: LitStrings, suns: Float64Array): number {
  const separatePower = separatelyTrackedPower(strings, suns)
  if (separatePower <= 0) return 1
  lightUp(strings, suns)
  const sharedPower = strings.nStrings === 1 ? (strings.times[0] ?? 1) * seriesPower(strings) : parallelPower(strings)
  return Math.min(1, Math.max(0, sharedPower / separatePower))
}

function separatelyTrackedPower(
  { nStrings, times, strungStart, light, strungCount }: LitStrings,
  suns: Float64Array,
): number {
  let separatePower = 0
  for (let string = 0; string < nStrings; string++) {
    const last = strungStart[string + 1] ?? 0
    for (let part = strungStart[string] ?? 0; part < last; part++) {
      separatePower += (times[string] ?? 1) * (strungCount[part] ?? 0) * bestPower(suns[light[part] ?? 0] ?? 0)
    }
  }
  return separatePower
}
