import { FIGURE_PLACE, type OptionDraws } from '../simulation/option-figures.ts'
import { DRAWS_PER_BLOCK, parameterSetsOf } from '../simulation/parameter-sets.ts'
import type { BlockRunner, Prepared } from '../simulation/run.ts'
import { pairedMean } from './comparison.ts'

/** Draws between two looks at the errors (X2). */
const DRAWS_PER_LOOK = 4000

/**
 * How many draws it takes until the error of every mean lifetime cost and of every pairwise difference is under a share
 * of the lowest mean (X2).
 *
 * @param prepared - the run
 * @param precision - share, > 0
 * @param most - ceiling, draws
 * @param run - plays blocks
 * @returns draws, a multiple of 4,000, or the ceiling
 */
export async function drawsForPrecision(
  prepared: Prepared,
  precision: number,
  most: number,
  run: BlockRunner,
): Promise<number> {
  const { scenario } = prepared
  const sets = parameterSetsOf(scenario, prepared.seed, prepared.points)
  const costs = scenario.options.map(() => new Float64Array(most + DRAWS_PER_LOOK))
  /** What batteries earned in all draws so far, by option. */
  const earned = scenario.options.map(() => 0)
  for (let draws = DRAWS_PER_LOOK; draws <= most; draws += DRAWS_PER_LOOK) {
    for (const [option, all] of costs.entries()) {
      const tasks = Array.from({ length: DRAWS_PER_LOOK / DRAWS_PER_BLOCK }, (_, i) => ({
        variant: 0,
        option,
        block: draws / DRAWS_PER_BLOCK - DRAWS_PER_LOOK / DRAWS_PER_BLOCK + i,
        draws: DRAWS_PER_BLOCK,
        sweep: false,
      }))
      let played = draws - DRAWS_PER_LOOK
      await run(tasks, block => {
        all.set(block.lifetimeCost, played)
        earned[option] = (earned[option] ?? 0) + earnedIn(block)
        played += block.draws
      })
    }
    const played = costs.map(all => all.subarray(0, draws))
    const earnings = earned.map(sum => sum / draws)
    if (preciseEnough(played, earnings, sets.drawsPerSet(draws), precision)) return draws
  }
  return Math.ceil(most / 20) * 20
}

/** What batteries earned in a block. */
function earnedIn({ setSums, squares }: OptionDraws): number {
  let sum = 0
  for (let i = FIGURE_PLACE.batteryEarnings; i < setSums.length; i += squares.length) sum += setSums[i] ?? 0
  return sum
}

function preciseEnough(
  costs: readonly Float64Array[],
  earnings: readonly number[],
  drawsPerSet: number,
  precision: number,
): boolean {
  const single = costs.map(values => pairedMean(values, drawsPerSet))
  // before battery earnings: what an income leaves of a cost is no scale, and may be below 0
  const allowed = precision * Math.min(...single.map(({ mean }, option) => mean + (earnings[option] ?? 0)))
  if (single.some(({ standardError }) => standardError >= allowed)) return false
  return costs.every((one, i) =>
    costs.slice(i + 1).every(other => {
      const differences = one.map((cost, draw) => cost - (other[draw] ?? 0))
      return pairedMean(differences, drawsPerSet).standardError < allowed
    }),
  )
}
