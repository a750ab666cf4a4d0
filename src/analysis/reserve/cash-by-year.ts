import { power } from '../../numerics/power.ts'
import { RunningSums } from '../../numerics/samples/running-sums.ts'
import { DRAWS_PER_BLOCK, DRAWS_PER_SET } from '../../simulation/parameter-sets.ts'
import type { OptionDraws } from '../../simulation/sums/sum-layout.ts'

/** Percentiles of cash summed to each year (R3). */
export interface CumulativeCash {
  readonly p50: number[]
  readonly p80: number[]
  readonly p90: number[]
  readonly p95: number[]
}

/** What is found on a walk through the cash of the years. */
export interface CashFinding {
  /**
   * Takes in a year.
   *
   * @param year - from 0
   * @param sums - what every draw has paid so far, discounted; reused
   * @param besides - what every draw has paid in addition
   */
  enter(year: number, sums: RunningSums, besides: number): void
}

/**
 * Walks through the years with the cash that every draw has paid so far (R1), each year's discounted.
 *
 * @param draws - payments and yearly cost
 * @param horizonYears - years
 * @param interest - a year; 0: undiscounted
 * @param findings - each is given every year
 */
export function walkCash(
  draws: OptionDraws,
  horizonYears: number,
  interest: number,
  findings: readonly CashFinding[],
): void {
  const { payments, yearlyCost } = draws
  const alike = yearlyCost.every(cost => cost === yearlyCost[0])
  const own = alike
    ? null
    : Float64Array.from({ length: draws.draws }, (_, draw) => yearlyCost[Math.floor(draw / DRAWS_PER_SET)] ?? 0)
  const sums = new RunningSums(draws.draws, largestSum(draws, own, horizonYears))
  let besides = 0
  for (let year = 0; year < horizonYears; year++) {
    const factor = power(1 + interest, -year)
    payments.forEach(({ draw, amount, firstOfYear }, block) => {
      sums.grow(draw, block * DRAWS_PER_BLOCK, amount, factor, firstOfYear[year] ?? 0, firstOfYear[year + 1] ?? 0)
    })
    if (own !== null) sums.growAll(own, factor)
    else besides += factor * (yearlyCost[0] ?? 0)
    for (const finding of findings) finding.enter(year, sums, besides)
  }
}

/** Largest undiscounted sum of a draw over the horizon. */
function largestSum({ draws, payments }: OptionDraws, yearly: Float64Array | null, horizonYears: number): number {
  const totals = new Float64Array(draws)
  payments.forEach(({ draw, amount }, block) => {
    addEach(totals, draw, block * DRAWS_PER_BLOCK, amount)
  })
  return totals.reduce((largest, total, draw) => Math.max(largest, total + horizonYears * (yearly?.[draw] ?? 0)), 0)
}

function addEach(totals: Float64Array, at: Uint16Array, first: number, amounts: Float64Array): void {
  for (let i = 0; i < at.length; i++) {
    const draw = first + (at[i] as number) // every payment has a draw
    totals[draw] = (totals[draw] as number) + (amounts[i] as number)
  }
}

/** Percentiles of the cash summed to the end of each year (R3); undiscounted on a walk without interest. */
export class CashPercentiles implements CashFinding {
  readonly found: CumulativeCash = { p50: [], p80: [], p90: [], p95: [] }

  enter(_: number, sums: RunningSums, besides: number): void {
    const [p50 = 0, p80 = 0, p90 = 0, p95 = 0] = sums.quantiles([0.5, 0.8, 0.9, 0.95])
    this.found.p50.push(p50 + besides)
    this.found.p80.push(p80 + besides)
    this.found.p90.push(p90 + besides)
    this.found.p95.push(p95 + besides)
  }
}
