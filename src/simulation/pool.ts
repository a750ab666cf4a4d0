import { availableParallelism } from 'node:os'
import { Piscina } from 'piscina'
import type { OptionDraws } from './option-figures.ts'
import { type BlockRunner, type BlockTask, localRunner, type Prepared } from './run.ts'

/** Failures played above which worker threads pay for their start. Measured: at a hundred thousand draws of a home they lose. */
const EVENTS_THAT_PAY = 10_000_000
/** Blocks that may wait for a thread, so that results do not pile up unread. */
const BLOCKS_AHEAD = 64

/**
 * Plays blocks in as many threads as pay (design section 3).
 *
 * @param threads - as asked; null: one, or all processors where the run is large
 * @returns a function from the variants of a run to its runner
 */
export function runnerOf(
  threads: number | null,
): (variants: readonly Prepared[]) => { run: BlockRunner; close: () => Promise<void> } {
  return variants => {
    const local = localRunner(variants)
    let pool: Piscina | null = null
    const run: BlockRunner = async (tasks, finished) => {
      const [first, ...rest] = tasks
      if (first === undefined) return []
      const start = await local([first], finished)
      const events = (start[0]?.byYear.failures.reduce((sum, count) => sum + count, 0) ?? 0) * tasks.length
      const wanted = threads ?? (events > EVENTS_THAT_PAY ? availableParallelism() : 1)
      if (wanted === 1) return [...start, ...(await local(rest, finished))]
      pool ??= openPool(wanted, variants)
      return [...start, ...(await playInPool(pool, rest, finished))]
    }
    return { run, close: async () => pool?.destroy() }
  }
}

function openPool(threads: number, variants: readonly Prepared[]): Piscina {
  const source = import.meta.url.endsWith('.ts')
  return new Piscina({
    filename: new URL(source ? './worker.ts' : './worker.js', import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
    workerData: variants,
    ...(source ? { execArgv: ['--import', learnTypeScript()] } : {}),
  })
}

/** A worker started from source must be taught TypeScript; tsx by itself teaches the main thread only. */
function learnTypeScript(): string {
  return `data:text/javascript,${encodeURIComponent(`import { register } from ${JSON.stringify(import.meta.resolve('tsx/esm/api'))}; register()`)}`
}

async function playInPool(
  pool: Piscina,
  tasks: readonly BlockTask[],
  finished: (draws: number) => void,
): Promise<OptionDraws[]> {
  const results: OptionDraws[] = []
  let next = 0
  const lane = async (): Promise<void> => {
    for (let i = next++; i < tasks.length; i = next++) {
      const task = tasks[i]
      if (task === undefined) return
      results[i] = await pool.run(task, { name: 'playTask' })
      finished(task.draws)
    }
  }
  await Promise.all(Array.from({ length: Math.min(BLOCKS_AHEAD, 2 * pool.options.maxThreads) }, lane))
  return results
}
