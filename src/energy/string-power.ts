import { bestPower } from './module-curve.ts'
import { parallelPower } from './parallel-power.ts'
import { seriesPower } from './series-power.ts'

/** Panels of one string that get the same light: how many, and which light (index into a list of suns). */
export interface StringPart {
  readonly light: number
  readonly count: number
  /** Whether each of them has an optimiser (E6). */
  readonly optimised: boolean
}

/** A string on a tracker input; `times` equal ones side by side. */
export interface PanelString {
  readonly parts: readonly StringPart[]
  readonly times: number
}

/**
 * Share of the power of panels tracked one by one that strings on a common tracker give (E4, E5), from their currents
 * and voltages. The tracker is taken to find the best point there is, which real ones may miss.
 *
 * @param strings - one: a common current; several: a common voltage
 * @param suns - light over 1000 W/m² by index
 * @returns share, [0, 1]; 1 where all panels get the same light and all strings are equally long
 */
export function sharedTrackerShare(strings: readonly PanelString[], suns: Float64Array): number {
  let alone = 0
  for (const string of strings) {
    for (const part of string.parts) alone += string.times * part.count * bestPower(suns[part.light] ?? 0)
  }
  if (alone <= 0) return 1
  const lit = strings.map(string => ({ parts: joinEqualLight(string.parts, suns), times: string.times }))
  const only = lit.length === 1 ? lit[0] : undefined
  const together = only === undefined ? parallelPower(lit, suns) : only.times * seriesPower(only.parts, suns)
  return Math.min(1, Math.max(0, together / alone))
}

/** Parts that get the same light at this moment, counted as one: shadows differ, but few fall at the same time. */
function joinEqualLight(parts: readonly StringPart[], suns: Float64Array): readonly StringPart[] {
  if (parts.length < 2) return parts
  const joined: { light: number; count: number; optimised: boolean }[] = []
  for (const part of parts) {
    const light = suns[part.light] ?? 0
    const same = joined.find(
      other => other.optimised === part.optimised && Math.abs((suns[other.light] ?? 0) - light) <= 1e-6 * light,
    )
    if (same === undefined) joined.push({ ...part })
    else same.count += part.count
  }
  return joined
}
