import { availableParallelism } from 'node:os'
import type { BlockTask, Prepared } from '../simulation/run.ts'
import type { OptionDraws } from '../simulation/sums/sum-layout.ts'
import { openThreadPool, type ThreadPool } from '../simulation/thread-pool.ts'
import { type Runner, type RunnerOf, runHere } from './runner.ts'

/**
 * Work, as `workOf` counts it, for which another thread is worth its start: every thread has to compile the program for
 * itself. Ours: some 30,000 draws of four designs of a home; measured in `README.md`.
 */
const WORK_OF_A_THREAD = 4_000_000
/** Blocks that may wait for a thread, so that results do not pile up unread. */
const BLOCKS_AHEAD = 64

/**
 * Runs in as many threads as are worth their start.
 *
 * @param threads - as asked; null: as many as have enough work, up to one a processor
 * @returns a function from the variants of a run to its runner
 */
export function runnerOf(threads: number | null): RunnerOf {
  return (variants, draws) => {
    const busy = Math.floor(workOf(variants, draws) / WORK_OF_A_THREAD)
    const wanted = threads ?? Math.max(1, Math.min(busy, availableParallelism()))
    return wanted === 1 ? runHere(variants) : runInThreads(variants, wanted)
  }
}

/** Lifetimes to play, each counted with its units; an option costs as much as 20 units before any fails. */
function workOf([prepared]: readonly Prepared[], draws: number): number {
  const options = prepared?.scenario.options ?? []
  const units = options.flatMap(({ populations }) => populations).reduce((sum, { count }) => sum + count, 0)
  return draws * (20 * options.length + units)
}

function runInThreads(variants: readonly Prepared[], threads: number): Runner {
  const opened = openThreadPool('analysis', threads, variants)
  return {
    run: async (tasks, take) => playInPool(await opened, tasks, take),
    analyse: async (name, asked) => (await opened).run({ name, asked }, { name: 'analyseTask' }),
    close: async () => (await opened).destroy(),
  }
}

async function playInPool(
  pool: ThreadPool,
  tasks: readonly BlockTask[],
  take: (block: OptionDraws) => void,
): Promise<void> {
  /** Blocks that are finished before their turn. */
  const early = new Map<number, OptionDraws>()
  let next = 0
  let due = 0
  const lane = async (): Promise<void> => {
    for (let i = next++; i < tasks.length; i = next++) {
      const task = tasks[i]
      if (task === undefined) return
      early.set(i, await pool.run(task, { name: 'playTask' }))
      for (let block = early.get(due); block !== undefined; block = early.get(due)) {
        take(block)
        early.delete(due++)
      }
    }
  }
  await Promise.all(Array.from({ length: Math.min(BLOCKS_AHEAD, 2 * pool.options.maxThreads) }, lane))
}
