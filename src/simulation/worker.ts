import { workerData } from 'node:worker_threads'
import type { OptionDraws } from './option-figures.ts'
import { BlockPlayer, type BlockTask, type Prepared } from './run.ts'

// the pool of this program is the only one that starts this file, and hands its variants over
const player = new BlockPlayer(workerData as readonly Prepared[])

/**
 * Plays one block in a worker thread.
 *
 * @param task - which block
 */
export function playTask(task: BlockTask): OptionDraws {
  return player.play(task)
}
