import { quantiles } from '../numerics/quantile.ts'
import type { OptionDraws } from '../simulation/option-figures.ts'
import { DRAWS_PER_BLOCK, DRAWS_PER_SET } from '../simulation/parameter-sets.ts'

/** Percentiles of cash summed to each year (R3). */
export interface CumulativeCash {
  readonly p50: number[]
  readonly p80: number[]
  readonly p90: number[]
  readonly p95: number[]
}

/**
 * Walks through the years with the cash of every draw in each (R1).
 *
 * @param draws - payments and yearly cost
 * @param horizonYears - years
 * @param each - called year by year with the cash of every draw, undiscounted; the array is reused
 */
export function walkCash(
  draws: OptionDraws,
  horizonYears: number,
  each: (year: number, cash: Float64Array) => void,
): void {
  const { payments, yearlyCost } = draws
  const fixed = Float64Array.from({ length: draws.draws }, (_, draw) =>
    yearlyCost.length === 1 ? (yearlyCost[0] ?? 0) : (yearlyCost[Math.floor(draw / DRAWS_PER_SET)] ?? 0),
  )
  const cash = new Float64Array(draws.draws)
  for (let year = 0; year < horizonYears; year++) {
    cash.set(fixed)
    payments.forEach(({ draw, amount, firstOfYear }, block) => {
      const end = firstOfYear[year + 1] ?? 0
      for (let i = firstOfYear[year] ?? 0; i < end; i++) {
        const at = block * DRAWS_PER_BLOCK + (draw[i] ?? 0)
        cash[at] = (cash[at] ?? 0) + (amount[i] ?? 0)
      }
    })
    each(year, cash)
  }
}

/**
 * Percentiles of the cash summed to the end of each year (R3).
 *
 * @param draws - payments and yearly cost
 * @param horizonYears - years
 */
export function cumulativeCash(draws: OptionDraws, horizonYears: number): CumulativeCash {
  const result: CumulativeCash = { p50: [], p80: [], p90: [], p95: [] }
  const sum = new Float64Array(draws.draws)
  walkCash(draws, horizonYears, (_, cash) => {
    for (let draw = 0; draw < sum.length; draw++) sum[draw] = (sum[draw] ?? 0) + (cash[draw] ?? 0)
    const [p50 = 0, p80 = 0, p90 = 0, p95 = 0] = quantiles(sum, [0.5, 0.8, 0.9, 0.95])
    result.p50.push(p50)
    result.p80.push(p80)
    result.p90.push(p90)
    result.p95.push(p95)
  })
  return result
}
