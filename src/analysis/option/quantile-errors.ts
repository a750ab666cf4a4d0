import { momentsOf, standardErrorOf, varianceOf } from '../../numerics/samples/moments.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import { quantileError } from '../../numerics/samples/quantile-error.ts'
import { setGroups } from '../means/set-sums-error.ts'

/**
 * Standard errors of percentiles of a figure (X2): where nothing is unknown from the interval between order statistics;
 * with ± from the spread over groups of whole sets.
 *
 * @param values - one a draw, in order
 * @param ps - shares, [0, 1]
 * @param drawsPerSet - draws that share a parameter set
 * @param oneSet - nothing is unknown
 * @returns one a share, in the unit of the values, >= 0
 */
export function quantileErrors(
  values: Float64Array,
  ps: readonly number[],
  drawsPerSet: number,
  oneSet: boolean,
): number[] {
  if (oneSet) return ps.map(p => quantileError(values, p))
  return spreadOverGroups(values, drawsPerSet, group => quantiles(group, ps))
}

/**
 * Mean of the dearest tenth of lifetimes, and its standard error (X2).
 * Without ±: √((s² + 0.9·(mean − q)²) / (n/10)), s the deviation of the dearest tenth, q the value it starts from
 *
 * @param costs - one a draw, in order
 * @param drawsPerSet - draws that share a parameter set
 * @param oneSet - nothing is unknown
 * @returns unit of the costs
 * @source B. MANISTRE, G. HANCOCK (2005), "Variance of the CTE estimator", North American Actuarial Journal 9 (recalled)
 */
export function worstTenth(
  costs: Float64Array,
  drawsPerSet: number,
  oneSet: boolean,
): { readonly mean: number; readonly standardError: number } {
  const { mean, least, values } = dearestTenth(costs)
  if (!oneSet)
    return { mean, standardError: spreadOverGroups(costs, drawsPerSet, group => [dearestTenth(group).mean])[0] ?? 0 }
  if (values.length < 2) return { mean, standardError: 0 }
  const above = mean - least
  return { mean, standardError: Math.sqrt((varianceOf(momentsOf(values)) + 0.9 * above * above) / values.length) }
}

/** The dearest tenth: every cost above its least member, and as many equal to that as complete it. */
function dearestTenth(costs: Float64Array): { mean: number; least: number; values: number[] } {
  const count = Math.max(1, Math.floor(costs.length / 10))
  const [least = 0] = quantiles(costs, [(costs.length - count) / Math.max(costs.length - 1, 1)])
  const above = [...costs.filter(cost => cost > least)]
  const values = [...above, ...Array<number>(count - above.length).fill(least)]
  let sum = 0
  for (const cost of above) sum += cost
  return { mean: (sum + (count - above.length) * least) / count, least, values }
}

/** The standard error of some figures, from their spread over groups of draws. */
function spreadOverGroups(
  values: Float64Array,
  drawsPerSet: number,
  figures: (group: Float64Array) => readonly number[],
): number[] {
  const { groups, size } = setGroups(values.length / drawsPerSet)
  const length = size * drawsPerSet
  const found = Array.from({ length: groups }, (_, group) =>
    figures(values.subarray(group * length, (group + 1) * length)),
  )
  const used = Math.sqrt((groups * length) / values.length)
  return (found[0] ?? []).map((_, place) =>
    groups < 2 ? 0 : used * standardErrorOf(momentsOf(found.map(of => of[place] ?? 0))),
  )
}
