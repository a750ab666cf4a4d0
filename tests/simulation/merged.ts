import { BlockMerger } from '../../src/simulation/sums/merge.ts'
import type { OptionDraws } from '../../src/simulation/sums/sum-layout.ts'

/**
 * Blocks of one option as one.
 *
 * @param blocks - in order of their draws
 * @param oneSet - nothing is unknown: the sums of all blocks belong to one parameter set
 */
export function mergeBlocks(blocks: readonly OptionDraws[], oneSet: boolean): OptionDraws {
  const merger = new BlockMerger(
    blocks.reduce((sum, block) => sum + block.draws, 0),
    oneSet,
  )
  for (const block of blocks) merger.add(block)
  return merger.whole()
}
