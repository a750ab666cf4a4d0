import { estimate } from '../../src/analysis/estimate.ts'
import { replacementAge } from '../../src/analysis/policies/replacement-age.ts'
import { waitingPolicy } from '../../src/analysis/policies/waiting-policy.ts'
import type { Results } from '../../src/analysis/results.ts'
import { runHere } from '../../src/analysis/runner.ts'
import { swingCosts } from '../../src/analysis/sensitivity/swings.ts'
import { switchInputs } from '../../src/analysis/sensitivity/switch-inputs.ts'
import { type BestPair, SwitchSearch } from '../../src/analysis/sensitivity/switch-points.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { DRAWS_PER_SET } from '../../src/simulation/parameter-sets.ts'
import { BlockPlayer, blockTasks, type Prepared, prepare } from '../../src/simulation/run.ts'
import { mergeBlocks } from '../simulation/merged.ts'
import { example } from './example.ts'
import { cpuSeconds } from './measure.ts'
import type { Report } from './report.ts'

/**
 * What each part of `estimate` adds to the plain draws of example (a), warm.
 *
 * @param report - takes the figures
 * @param draws - of each option
 */
export async function runAnalyses(report: Report, draws: number): Promise<void> {
  const scenario = await example()
  const prepared = prepare(scenario, 1)
  const play = (sweep: boolean): Float64Array[] =>
    scenario.options.map((_, option) => {
      const player = new BlockPlayer([prepared])
      return mergeBlocks(
        blockTasks(option, draws, sweep).map(task => player.play(task)),
        false,
      ).lifetimeCost
    })
  const costs = play(false)
  const order = costs.map((_, option) => option).sort((a, b) => meanOf(costs[a]) - meanOf(costs[b]))
  const [best = 0, second = 0] = order
  const pair = {
    best,
    second,
    bestCosts: costs[best] ?? new Float64Array(draws),
    secondCosts: costs[second] ?? new Float64Array(draws),
    drawsPerSet: DRAWS_PER_SET,
    difference: meanOf(costs[second]) - meanOf(costs[best]),
  }
  const plain = await cpuSeconds(() => play(false), 2)
  const parts: readonly (readonly [string, number])[] = [
    ['warranty sweep', (await cpuSeconds(() => play(true), 2)) - plain],
    ['swings', await cpuSeconds(() => costs.map((_, o) => swingCosts(prepared, o, draws)), 2)],
    ['switch points', await cpuSeconds(() => searchAll(prepared, pair), 2)],
    [
      'replacement age',
      await cpuSeconds(() => costs.map((_, o) => replacementAge(prepared, o, draws, DRAWS_PER_SET)), 2),
    ],
    [
      'waiting policy',
      await cpuSeconds(() => costs.map((_, o) => waitingPolicy(prepared, o, draws, DRAWS_PER_SET)), 2),
    ],
  ]
  report.head(`Example (a), ${draws} draws: what each analysis takes, warm`)
  report.figure('plain draws', plain, 's')
  for (const [name, seconds] of parts) report.figure(`${name}, as a share of the plain draws`, seconds / plain, '×')
  report.figure('all five analyses / plain draws', parts.reduce((sum, [, seconds]) => sum + seconds, 0) / plain, '×')
  let results: Results | null = null
  const whole = await cpuSeconds(async () => {
    const settings = { draws, seed: 1, tool: { name: 'lifetally', version: 'bench' } }
    results = await estimate(scenario, settings, runHere, () => {})
  }, 1)
  report.figure('everything but report and files', whole, 's')
  const done: Results | null = results
  if (done !== null)
    report.figure('report', await cpuSeconds(() => renderReport(done, { audience: 'buyer', command: '' })), 's')
}

function searchAll(prepared: Prepared, pair: BestPair): void {
  const search = new SwitchSearch(prepared, pair)
  switchInputs(prepared.scenario, [pair.best, pair.second]).forEach((_, place) => {
    search.pointOf(place)
  })
}

function meanOf(costs: Float64Array | undefined): number {
  return (costs ?? new Float64Array(1)).reduce((sum, cost) => sum + cost, 0)
}
