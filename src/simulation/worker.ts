import { workerData } from 'node:worker_threads'
import type { OptionDraws } from './option-figures.ts'
import { BlockPlayer, type BlockTask, type Prepared } from './run.ts'

const player = new BlockPlayer(variantsOf(workerData))

/**
 * Plays one block in a worker thread.
 *
 * @param task - which block
 */
export function playTask(task: BlockTask): OptionDraws {
  return player.play(task)
}

/** Piscina hands the data of the pool over as the second of two. */
function variantsOf(data: unknown): readonly Prepared[] {
  // the pool of this program is the only one that starts this file
  return (Array.isArray(data) ? data[1] : data) as readonly Prepared[]
}
