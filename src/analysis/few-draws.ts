import type { Option } from '../scenario/model.ts'
import { DRAWS_PER_SET } from '../simulation/parameter-sets.ts'

/** Most draws played. Ours: what a gateway costs is then known to a tenth, in a twentieth of the time of the run. */
const MOST_DRAWS = 400
/** Lifetimes of units that are played at most, where even 20 draws do not pass it. Ours. */
const MOST_UNIT_LIVES = 1_000_000

/**
 * Draws for what a note or a side remark says of an option: few, and fewer where it has many units.
 *
 * @param option - the option
 * @returns a multiple of 20, 20 to 400
 */
export function fewDraws({ populations }: Pick<Option, 'populations'>): number {
  const units = populations.reduce((sum, { count }) => sum + count, 0)
  const affordable = DRAWS_PER_SET * Math.floor(MOST_UNIT_LIVES / units / DRAWS_PER_SET)
  return Math.min(MOST_DRAWS, Math.max(DRAWS_PER_SET, affordable))
}
