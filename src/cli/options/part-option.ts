import { UsageError } from '../../errors.ts'

/** A part of a fleet, from 1, of how many. */
export interface PartOfFleet {
  readonly part: number
  readonly parts: number
}

/** Most parts. Ours. */
const MOST_PARTS = 100_000

/**
 * Which part of a fleet to play (F8): as typed, else as a batch scheduler says, else all.
 *
 * @param typed - after `--part`; undefined: not typed
 * @param environment - variables of the process
 * @returns null: the whole fleet
 * @throws UsageError for anything that is no part
 */
export function readPartOption(
  typed: string | boolean | undefined,
  environment: Readonly<Record<string, string | undefined>>,
): PartOfFleet | null {
  if (typed !== undefined) {
    const match = /^(\d+)\/(\d+)$/.exec(String(typed))
    return checked(match?.[1], match?.[2], `--part takes I/N with I from 1 to N, such as 2/8; found "${String(typed)}"`)
  }
  const task = environment.SLURM_ARRAY_TASK_ID
  if (task !== undefined) {
    const { SLURM_ARRAY_TASK_COUNT: count, SLURM_ARRAY_TASK_MIN: lowest = '0' } = environment
    const part = Number(task) - Number(lowest) + 1
    return checked(
      String(part),
      count,
      `the array of the batch scheduler must run in steps of 1; found task ${task}, lowest ${lowest}, ${count ?? 'no'} tasks. Or name the part with --part`,
    )
  }
  const index = environment.JOB_COMPLETION_INDEX
  if (index === undefined) return null
  const parts = environment.LIFETALLY_PARTS
  return checked(
    String(Number(index) + 1),
    parts,
    `JOB_COMPLETION_INDEX is ${index}; set LIFETALLY_PARTS to the number of completions, found ${parts ?? 'nothing'}`,
  )
}

function checked(part: string | undefined, parts: string | undefined, otherwise: string): PartOfFleet {
  const whole = /^\d+$/.test(part ?? '') && /^\d+$/.test(parts ?? '')
  const found = { part: Number(part), parts: Number(parts) }
  if (whole && found.part >= 1 && found.part <= found.parts && found.parts <= MOST_PARTS) return found
  throw new UsageError(otherwise)
}
