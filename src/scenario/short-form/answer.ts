import type { KeyPath } from '../../input/problems.ts'
import { answerElsewhere } from './elsewhere.ts'
import type { Level } from './elsewhere-words.ts'
import type { Rewrite } from './rewrite.ts'
import { answerForms } from './wrong-forms.ts'

/**
 * Answers what people write in a block that it does not take: keys of other places, other words, other forms.
 *
 * @param rewrite - the scenario on its way
 * @param level - what the block is
 * @param path - where it is
 */
export function answerMisplaced(rewrite: Rewrite, level: Level, path: KeyPath): void {
  answerElsewhere(rewrite, level, path)
  answerForms(rewrite, level, path)
}
