import { momentsOf, standardErrorOf } from '../../numerics/samples/moments.ts'
import { DRAWS_PER_SET, SETS_PER_BLOCK } from '../../simulation/parameter-sets.ts'

/**
 * Standard error of a mean from sums by parameter set (X2): the spread over full blocks / √blocks, or, under eight
 * blocks, over ten groups of whole sets in order (fewer than ten sets: over sets), times √(draws used/all draws).
 *
 * @param sums - of the figure over the draws of each set, 20 draws each
 * @param draws - of the run
 * @returns >= 0; 0 with a single set
 */
export function errorOfSetSums(sums: Float64Array, draws: number): number {
  const { groups, size } = setGroups(sums.length)
  if (groups < 2) return 0
  const means = new Float64Array(groups)
  for (let group = 0; group < groups; group++) {
    let sum = 0
    for (let set = group * size; set < (group + 1) * size; set++) sum += sums[set] ?? 0
    means[group] = sum / (size * DRAWS_PER_SET)
  }
  return standardErrorOf(momentsOf(means)) * Math.sqrt((groups * size * DRAWS_PER_SET) / draws)
}

/**
 * The groups of whole sets whose spread gives a standard error (X2): full blocks, or, under eight, ten groups in order
 * (fewer than ten sets: each set).
 *
 * @param sets - of the run, >= 1
 * @returns groups, and the sets of each
 */
export function setGroups(sets: number): { readonly groups: number; readonly size: number } {
  const blocks = Math.floor(sets / SETS_PER_BLOCK)
  if (blocks >= 8) return { groups: blocks, size: SETS_PER_BLOCK }
  const groups = Math.min(10, sets)
  return { groups, size: Math.floor(sets / groups) }
}
