import type { KeyPath } from '../../input/problems.ts'
import { isSunInverter } from '../../topologies/kinds.ts'
import type { Topology } from '../../topologies/topology.ts'
import { componentOf, moveToComponent } from './component-of.ts'
import type { Rewrite } from './rewrite.ts'

/** Largest rating of a unit behind one panel, kW: ours; what is larger is meant for the whole roof. */
const MOST_UNIT_KW = 2.5

/** `inverter_kw: 5` and `tier: robust` of an option are those of its inverter, or of each panel-level unit. */
export function takeInverterWords(rewrite: Rewrite, path: KeyPath, topology: Topology): void {
  const inverter = componentOf(rewrite, path, isSunInverter)
  for (const [word, key] of [
    ['inverter_kw', 'ac_kw'],
    ['tier', 'tier'],
  ] as const) {
    const from = [...path, word]
    const written = rewrite.at(from)
    if (written === undefined) continue
    if (inverter === null) {
      // The missing inverter is reported by the rules.
      rewrite.drop(from)
      continue
    }
    if (key === 'ac_kw' && topology.tracking === 'panel' && typeof written === 'number' && written > MOST_UNIT_KW) {
      rewrite.flaws.push({ path: from, message: forTheWholeRoof(written, rewrite.at(['site', 'panels'])) })
      rewrite.drop(from)
      continue
    }
    if (key === 'ac_kw' && typeof written === 'number' && meansWatts(written, rewrite.at(['site', 'panels']))) {
      rewrite.flaws.push({ path: from, message: `found ${written} kW; write  inverter_kw: ${written / 1000}` })
      rewrite.drop(from)
      continue
    }
    rewrite.take(from, `${key}: ${String(written)} of the ${inverter.kind}`)
    moveToComponent(rewrite, from, [...inverter.path, key])
  }
}

/** Whether a rating is so large for its panels that it must be in watts. */
function meansWatts(found: number, panels: unknown): boolean {
  return found >= 100 && typeof panels === 'number' && found > MOST_UNIT_KW * panels
}

function forTheWholeRoof(found: number, panels: unknown): string {
  const each = typeof panels === 'number' && panels > 0 ? Number((found / panels).toPrecision(3)) : 0.29
  return `found ${found} kW; here it is the rating of one unit behind one panel: write  inverter_kw: ${each}`
}
