import type { SourceValue } from '../../input/problems.ts'
import type { Flaw } from '../schema/walk.ts'
import { answerMisplaced } from './answer.ts'
import { takeHeadWords } from './head.ts'
import { takeOptionWords } from './option.ts'
import { Rewrite } from './rewrite.ts'
import { ARRAYS, takeSiteWords } from './site.ts'
import type { Taken } from './taken.ts'

const SITE_BLOCKS = ['generation', 'energy_value', 'location', 'load', 'network'] as const

/** A scenario in the full form, made from one in the short form. */
export interface FullForm {
  /** Its values, each with the place and the key that the person wrote. */
  readonly source: SourceValue
  /** The words that were taken, in order. */
  readonly taken: readonly Taken[]
  /** What is wrong with the words, by the path as written. */
  readonly flaws: readonly Flaw[]
}

/**
 * Turns the words of a quote into the full form of a scenario: `warranty: 25` into
 * `warranty: {years: 25}` of the first component, `inverter_kw: 5` into the rating of the inverter, and so on. What is in
 * the full form already stays; what is no word of the short form is left for the schema to answer.
 *
 * @param source - values as parsed, of any shape
 * @returns the full form; a second pass over it changes nothing
 */
export function fullForm(source: SourceValue): FullForm {
  const rewrite = new Rewrite(source)
  answerMisplaced(rewrite, 'root', [])
  for (const level of ['site', 'visit'] as const) answerMisplaced(rewrite, level, [level])
  for (const level of SITE_BLOCKS) answerMisplaced(rewrite, level, ['site', level])
  rewrite.list(ARRAYS).forEach((_, index) => {
    answerMisplaced(rewrite, 'array', [...ARRAYS, index])
  })
  takeHeadWords(rewrite)
  takeSiteWords(rewrite)
  rewrite.list(['options']).forEach((_, index) => {
    takeOptionWords(rewrite, index)
  })
  return { source: rewrite.result(), taken: rewrite.taken, flaws: rewrite.flaws }
}
