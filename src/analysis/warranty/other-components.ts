import { KeptHistories } from '../../simulation/lifetime-costs.ts'
import { type Prepared, withScenario } from '../../simulation/run.ts'
import { withWarrantyYears } from '../changed-scenario.ts'
import { pairedMean } from '../comparison/comparison.ts'
import { fewDraws } from '../few-draws.ts'
import type { WarrantySweep } from '../results/what-if.ts'
import { partsTermYears } from './cover-shares.ts'

/**
 * What the cover of the components after the first is worth, each against none (V2): the sweep is of the first alone. The
 * same histories, priced without it.
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param draws - draws of the run; at most 400 are used
 * @param drawsPerSet - draws that share a parameter set
 * @returns one a component that has parts cover, in the order of the option
 */
export function otherComponents(
  prepared: Prepared,
  option: number,
  draws: number,
  drawsPerSet: number,
): WarrantySweep['otherComponents'] {
  const { scenario } = prepared
  const stated = scenario.options[option]
  if (stated === undefined) return []
  const covered = stated.populations.slice(1).filter(({ place }) => partsTermYears(stated, place) > 0)
  if (covered.length === 0) return []
  const used = Math.min(draws, fewDraws(stated))
  const kept = new KeptHistories(prepared, option, used)
  const asWritten = kept.costs(prepared, used)
  return covered.map(({ kind, place }) => {
    const without = kept.costs(withScenario(prepared, withWarrantyYears(scenario, option, place, 0)), used)
    const { mean, standardError } = pairedMean(
      without.map((cost, draw) => cost - (asWritten[draw] ?? 0)),
      Math.min(drawsPerSet, used),
    )
    return { component: kind, years: partsTermYears(stated, place), worth: mean, standardError, draws: used }
  })
}
