import type { NullCase } from '../results/comparison.ts'
import { type Compared, type Costs, differenceOf } from './comparison.ts'

/**
 * The difference of two options in another case (K3 from the lifetime costs of U1c or K5).
 *
 * @param option - place of the dearer to buy
 * @param against - place of the other
 * @param compared - all options as written
 * @param costs - lifetime costs in that case, one entry an option; null: the case does not change them
 * @param drawsPerSet - draws that share a parameter set
 * @returns null where one of the places is not of an option
 */
export function differenceIn(
  option: number,
  against: number,
  compared: readonly Compared[],
  costs: readonly (Costs | null)[],
  drawsPerSet: number,
): NullCase | null {
  const [dear, cheap] = [compared[option], compared[against]]
  if (dear === undefined || cheap === undefined) return null
  const { mean, standardError } = differenceOf(costs[option] ?? dear, costs[against] ?? cheap, drawsPerSet)
  return {
    meanDifference: mean,
    standardError,
    breakEvenPremium: dear.upfrontCost - cheap.upfrontCost - mean,
  }
}
