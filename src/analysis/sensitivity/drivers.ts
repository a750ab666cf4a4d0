import { rankCorrelation } from '../../numerics/special.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { ParameterSet } from '../../simulation/parameter-sets.ts'
import { splitVariance } from '../option/variance-split.ts'
import type { Results } from '../results.ts'
import { optionsMoved } from './unknowns-read.ts'

/** Shares under this are not listed one by one (S3). */
const LEAST_SHARE = 0.05

/**
 * How much of what is not known comes from each input (S3): squared rank correlation of the input with the set means,
 * less what pure chance gives on average, divided by the share of their variance that is not chance, and by their sum
 * where that is over 1: shares of one whole, from 5 % on, the rest as 'others'.
 *
 * @param scenario - its unknowns
 * @param options - places of the options that the differences are of; unknowns that affect neither are left out
 * @param sets - parameter sets, in order
 * @param differences - second best less best option (or the cost of a single one), one a draw
 * @param drawsPerSet - draws of each set
 * @returns largest first, with standard errors; empty where nothing is unknown or the sets differ no more than chance explains
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
  // the variance of the means is known to about this share of itself: less than twice that could be chance alone
  const spread = Math.sqrt(2 / (sets.length - 1))
  if (split.between < 2 * spread * variance) return []
  const means = sets.map((_, set) => {
    let sum = 0
    for (let i = set * drawsPerSet; i < (set + 1) * drawsPerSet; i++) sum += differences[i] ?? 0
    return sum / drawsPerSet
  })
  const found = scenario.unknowns.flatMap((input, unknown) => {
    if (!optionsMoved(scenario, unknown).some(option => options.includes(option))) return []
    const correlation = rankCorrelation(
      sets.map(set => set.uniforms[unknown] ?? 0.5),
      means,
    )
    const scale = variance / split.between
    const explained = Math.max(0, correlation * correlation - 1 / (sets.length - 1))
    const error = (2 * Math.abs(correlation) * (1 - correlation * correlation)) / Math.sqrt(sets.length - 1)
    return [{ input: input.label, share: explained * scale, standardError: error * scale }]
  })
  // each is estimated separately, so their sum may exceed 1
  const whole = Math.max(
    1,
    found.reduce((sum, { share }) => sum + share, 0),
  )
  const listed = found
    .map(({ input, share, standardError }) => ({ input, share: share / whole, standardError: standardError / whole }))
    .filter(({ share }) => share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share)
  const listedShare = listed.reduce((sum, { share }) => sum + share, 0)
  const error = Math.sqrt(listed.reduce((sum, { standardError }) => sum + standardError * standardError, 0))
  return 1 - listedShare > 1e-9
    ? [...listed, { input: 'others', share: 1 - listedShare, standardError: error }]
    : listed
}
