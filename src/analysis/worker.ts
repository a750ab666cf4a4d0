import { workerData } from 'node:worker_threads'
import { BlockPlayer, type BlockTask, type Prepared } from '../simulation/run.ts'
import type { OptionDraws } from '../simulation/sums/sum-layout.ts'
import { Analyses, type AnalysisTask } from './analyses.ts'

// the pool of this program is the only one that starts this file, and hands its variants over
const variants = workerData as readonly Prepared[]
const player = new BlockPlayer(variants)
const analyses = new Analyses(variants)

/**
 * Plays one block in a worker thread.
 *
 * @param task - which block
 */
export function playTask(task: BlockTask): OptionDraws {
  return player.play(task)
}

/**
 * Carries out one analysis in a worker thread.
 *
 * @param task - which, and its input
 */
export function analyseTask(task: AnalysisTask): unknown {
  return analyses.carryOut(task)
}
