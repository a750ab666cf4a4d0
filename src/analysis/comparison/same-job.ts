import type { Option } from '../../scenario/model.ts'

/** What is known of what an option's battery earns (O7). */
export type BatteryWorth = 'none' | 'stated' | 'computed' | 'unknown'

/** What an option does in addition to generating energy: options that differ in it may not be ranked. */
export interface Job {
  readonly battery: BatteryWorth
  /** Names of what may be bought later (C8). */
  readonly later: readonly string[]
}

/**
 * What an option does, as far as it decides which options may be compared.
 *
 * @param option - the option
 */
export function jobOf({ battery, later }: Option): Job {
  return {
    battery: battery === null ? 'none' : (battery.worth?.form ?? 'unknown'),
    later: later.map(({ name }) => name).sort(),
  }
}

/**
 * Whether two options do the same job, so that a verdict between them has a meaning (O7): one with a battery of unknown
 * worth does not do the job of one without; two for which different things may be bought later do not do the same job
 * either (C8).
 *
 * @param one - of one option
 * @param other - of the other
 */
export function sameJob(one: Job, other: Job): boolean {
  if (one.later.join('\n') !== other.later.join('\n')) return false
  const unknown = [one, other].some(({ battery }) => battery === 'unknown')
  const without = [one, other].some(({ battery }) => battery === 'none')
  return !(unknown && without)
}

/**
 * Whether each option may be named the one that costs least (O7): one with a battery of unknown worth may not where
 * others have none.
 *
 * @param jobs - of all options
 * @returns one answer an option; at least one of them true
 */
export function ranked(jobs: readonly Pick<Job, 'battery'>[]): boolean[] {
  return jobs.map(job => job.battery !== 'unknown' || jobs.every(other => other.battery !== 'none'))
}
