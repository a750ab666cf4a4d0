import type { Scenario } from '../../src/scenario/model.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { layoutOf } from '../../src/simulation/play-draws.ts'
import { BlockPlayer, blockTasks, type Prepared, planOf, prepare } from '../../src/simulation/run.ts'
import type { OptionDraws } from '../../src/simulation/sums/sum-layout.ts'
import { mergeBlocks } from '../simulation/merged.ts'
import { example } from './example.ts'
import { cpuSeconds } from './measure.ts'
import { plainMeans } from './plain-loop.ts'
import type { Report } from './report.ts'
import { runStages } from './stages.ts'
import { straightLoop } from './straight-loop.ts'
import { COMMERCIAL, HOUSEHOLD, scenarioOf, single } from './workloads.ts'

/** Largest z-score between a mean of the plain loop and ours; above it the loop does not do the same work. */
const MOST_Z = 4

/**
 * The draws alone, warm, in this thread: against the loops, by kind of population, by number of units.
 *
 * @param report - takes the figures
 * @param draws - of each option
 */
export async function runKernel(report: Report, draws: number): Promise<void> {
  const prepared = prepare(await example(), 1)
  const ours = await runAll(prepared, draws)
  report.head(`Example (a), four options, ${draws} draws each, one thread, the draws alone`)
  report.figure('(a) draws a second, all options', draws / ours, '/s')
  report.figure('(a) microseconds a draw of four options', (1e6 * ours) / draws, 'µs')
  const plain = await cpuSeconds(() => prepared.scenario.options.map((_, o) => plainMeans(prepared, o, draws)), 1)
  report.figure('(a) plain object-per-unit loop, microseconds a draw', (1e6 * plain) / draws, 'µs')
  report.figure('(a) plain loop / ours', plain / ours, '×')
  compareMeans(report, prepared, draws)

  report.head(`Workloads, five options, ${draws} draws each, the draws alone`)
  for (const [name, size, n] of [
    ['household', HOUSEHOLD, draws],
    ['commercial', COMMERCIAL, Math.ceil(draws / 200) * 20],
  ] as const) {
    const run = prepare(read(scenarioOf(size)), 1)
    const own = await runAll(run, n)
    const straight = await cpuSeconds(() => straightLoop(size, n))
    const old = await cpuSeconds(() => run.scenario.options.map((_, o) => plainMeans(run, o, n)), 1)
    const failures = run.scenario.options.map((_, o) => failuresOf(playAll(run, o, n)))
    const { failures: expected } = straightLoop(size, n)
    failures.forEach((found, o) => {
      const z = (found - (expected[o] ?? 0)) / Math.sqrt((2 * found) / n)
      if (Math.abs(z) > MOST_Z) throw new Error(`${name}, option ${o}: the straight loop plays other failures, z ${z}`)
    })
    report.figure(`${name}: ours, nanoseconds a failure`, (1e9 * own) / n / sum(failures), 'ns')
    report.figure(`${name}: plain object-per-unit loop / ours`, old / own, '×')
    report.figure(`${name}: straight C-like loop, which does less, / ours`, straight / own, '×')
    runStages(report, name, run.scenario, n)
  }

  report.head('By kind of population and number of units, the draws alone')
  for (const [kind, units] of [
    ['std', 1],
    ['opt', 20],
    ['pan', 20],
    ['pan', 200],
    ['pan', 2000],
  ] as const) {
    const run = prepare(read(single(kind, units)), 1)
    const n = Math.max(200, Math.ceil(draws / units / 20) * 20)
    const seconds = await runAll(run, n)
    const failures = failuresOf(playAll(run, 0, n))
    report.figure(`${kind} × ${units}: nanoseconds a failure`, (1e9 * seconds) / n / failures, 'ns')
  }
}

/** Processor time of all options; warmed up once. */
function runAll(prepared: Prepared, draws: number): Promise<number> {
  return cpuSeconds(() => prepared.scenario.options.map((_, o) => playAll(prepared, o, draws)))
}

function playAll(prepared: Prepared, option: number, draws: number): OptionDraws {
  const player = new BlockPlayer([prepared])
  const blocks = blockTasks(option, draws, false).map(task => player.play(task))
  return mergeBlocks(blocks, prepared.scenario.unknowns.length === 0)
}

function failuresOf(played: OptionDraws): number {
  return sum(Array.from(played.byYear.failures)) / played.draws
}

/** The plain loop must give the same means, or the ratio means nothing. */
function compareMeans(report: Report, prepared: Prepared, draws: number): void {
  prepared.scenario.options.forEach((option, o) => {
    const plain = plainMeans(prepared, o, draws)
    const played = playAll(prepared, o, draws)
    const layout = layoutOf(planOf(prepared, o), false)
    const mean = (...places: number[]): number => {
      let total = 0
      for (let row = 0; row < played.setSums.length; row += layout.length)
        for (const place of places) total += played.setSums[row + place] ?? 0
      return total / draws
    }
    const repairs = mean(layout.of('parts'), layout.of('labour'), layout.of('visits'))
    const z = (repairs - plain.repairs) / (Math.SQRT2 * plain.standardError)
    report.figure(`(a) ${option.id}: z of mean repairs, ours against the plain loop`, z, '')
    if (Math.abs(z) > MOST_Z)
      throw new Error(`option ${option.id}: the plain loop pays ${plain.repairs}, ours ${repairs}`)
  })
}

function read(blocks: unknown): Scenario {
  return readScenario(JSON.stringify(blocks), 'workload.json', '.')
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
