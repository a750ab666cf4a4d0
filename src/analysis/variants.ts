/** The scenarios of a run: as the user wrote it, and those that findings compare it with. */

import type { Scenario } from '../scenario/model.ts'
import { withSpareAlike } from './comparison/spare-alike.ts'
import { wideScenario } from './comparison/unmeasured.ts'
import { eachAtOnce } from './self-check/later-lives.ts'

/** Place of each variant among those of a run. */
export const VARIANT = {
  asWritten: 0,
  /** No difference in reliability between tiers (U1c). */
  nullCase: 1,
  /** Judged ranges wider (K4); as written where nothing judged is drawn. */
  wide: 2,
  /** As the null case, with spares of all tiers at one price (K5). */
  spareAlike: 3,
  /** Each failure found and visited by itself (X1). */
  eachAtOnce: 4,
} as const

/**
 * The variants of a scenario, each in its place of VARIANT.
 *
 * @param scenario - as written
 */
export function variantsOf(scenario: Scenario): readonly Scenario[] {
  const variants: Record<keyof typeof VARIANT, Scenario> = {
    asWritten: scenario,
    nullCase: { ...scenario, tierEffect: { fixed: 0 } },
    wide: wideScenario(scenario) ?? scenario,
    spareAlike: withSpareAlike(scenario),
    eachAtOnce: eachAtOnce(scenario),
  }
  return Object.values(variants)
}
