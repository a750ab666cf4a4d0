/**
 * Clear days and dull days of a month (E1): the spread of daily clearness about its monthly mean. Without it a month of
 * mean days would show no clipping at all.
 */

import { bisect } from '../../numerics/bisection.ts'
import { power } from '../../numerics/power.ts'

/** Clearness of the dullest day. @source Bendt, Collares-Pereira and Rabl (1981) */
const DULLEST = 0.05

/**
 * Clearness of equally likely days of a month, dullest first (E1): the exponential distribution between a least and a
 * greatest clearness, F(K) = (e^{γKmin} − e^{γK}) / (e^{γKmin} − e^{γKmax}), with γ such that its mean is the month's.
 *
 * @param meanClearness - daily irradiation over that above the air, mean of the month; taken into [0.2, 0.78]
 * @param nDays - how many days represent the month, >= 1
 * @returns nDays values, ascending; their mean is `meanClearness` as given
 * @source Bendt, Collares-Pereira and Rabl (1981), The frequency distribution of daily insolation values, Solar Energy
 *   27, 1–5; greatest clearness 0.6313 + 0.267K − 11.9(K − 0.75)^8 as in Duffie and Beckman (2013), section 2.9
 */
export function clearnessOfDays(meanClearness: number, nDays: number): Float64Array {
  const mean = Math.min(0.78, Math.max(0.2, meanClearness))
  const clearest = 0.6313 + 0.267 * mean - 11.9 * power(mean - 0.75, 8)
  const width = clearest - DULLEST
  const slope = slopeFor((mean - DULLEST) / width)
  const days = new Float64Array(nDays)
  let sum = 0
  for (let day = 0; day < nDays; day++) {
    const clearness = DULLEST + width * quantile((day + 0.5) / nDays, slope)
    days[day] = clearness
    sum += clearness
  }
  return days.map(clearness => (clearness * meanClearness * nDays) / sum)
}

/** Quantile of the density ∝ e^{sx} on [0, 1]. */
function quantile(share: number, slope: number): number {
  if (Math.abs(slope) < 1e-6) return share
  // the larger end is taken out of the logarithm so that a steep slope does not overflow
  return slope > 0
    ? 1 + Math.log(share + (1 - share) * Math.exp(-slope)) / slope
    : Math.log1p(share * Math.expm1(slope)) / slope
}

/** Mean of that density: 1/(1 − e^{−s}) − 1/s. */
function meanOf(slope: number): number {
  return Math.abs(slope) < 1e-4 ? 0.5 + slope / 12 : 1 / -Math.expm1(-slope) - 1 / slope
}

/** The slope whose mean is given; the mean rises with the slope. */
function slopeFor(mean: number): number {
  const { low, high } = bisect(-500, 500, 80, slope => meanOf(slope) < mean)
  return (low + high) / 2
}
