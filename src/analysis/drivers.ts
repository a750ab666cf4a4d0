import { rankCorrelation } from '../numerics/special.ts'
import type { Scenario } from '../scenario/model.ts'
import type { ParameterSet } from '../simulation/parameter-sets.ts'
import type { Results } from './results.ts'
import { optionsMoved } from './unknowns-read.ts'
import { splitVariance } from './variance-split.ts'

/** Shares under this are not listed one by one (S3). */
const LEAST_SHARE = 0.05

/**
 * How much of what is not known hangs on each input (S3): squared rank correlation of the input with the set means,
 * less what pure chance gives on average, divided by the share of their variance that is not chance; from 5 % on, the
 * rest as 'others'.
 *
 * @param scenario - its unknowns
 * @param options - places of the options that the differences are of; unknowns that move neither are left out
 * @param sets - parameter sets, in order
 * @param differences - second best less best option (or the cost of a single one), one a draw
 * @param drawsPerSet - draws of each set
 * @returns largest first; empty where nothing is unknown or the sets do not differ
 */
export function drivers(
  scenario: Scenario,
  options: readonly number[],
  sets: readonly ParameterSet[],
  differences: Float64Array,
  drawsPerSet: number,
): Results['drivers'] {
  const split = splitVariance(differences, drawsPerSet)
  const variance = split.between + split.within / drawsPerSet
  if (sets.length < 3 || split.between === 0) return []
  const means = sets.map((_, set) => {
    let sum = 0
    for (let i = set * drawsPerSet; i < (set + 1) * drawsPerSet; i++) sum += differences[i] ?? 0
    return sum / drawsPerSet
  })
  const listed = scenario.unknowns
    .flatMap((input, unknown) => {
      if (!optionsMoved(scenario, unknown).some(option => options.includes(option))) return []
      const correlation = rankCorrelation(
        sets.map(set => set.uniforms[unknown] ?? 0.5),
        means,
      )
      const explained = Math.max(0, correlation * correlation - 1 / (sets.length - 1))
      return [{ input: input.label, share: Math.min(1, (explained * variance) / split.between) }]
    })
    .filter(({ share }) => share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share)
  const told = listed.reduce((sum, { share }) => sum + share, 0)
  return told < 1 ? [...listed, { input: 'others', share: 1 - told }] : listed
}
