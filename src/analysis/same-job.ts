import type { Option } from '../scenario/model.ts'

/** What is known of what an option's battery earns (O7). */
export type BatteryWorth = 'none' | 'stated' | 'computed' | 'unknown'

/** What an option does besides turning light into energy: options that differ in it may not be ranked. */
export interface Job {
  readonly battery: BatteryWorth
}

/**
 * What an option does, as far as it decides who may be compared with whom.
 *
 * @param option - the option
 */
export function jobOf({ battery }: Option): Job {
  return { battery: battery === null ? 'none' : (battery.worth?.form ?? 'unknown') }
}

/**
 * Whether two options do the same job, so that a verdict between them means something (O7): one with a battery whose
 * worth nobody knows does not do the job of one without.
 *
 * @param one - of one option
 * @param other - of the other
 */
export function sameJob(one: Job, other: Job): boolean {
  const unknown = [one, other].some(({ battery }) => battery === 'unknown')
  const without = [one, other].some(({ battery }) => battery === 'none')
  return !(unknown && without)
}

/**
 * Whether each option is among those that 'costs least' speaks of (O7): one with a battery of unknown worth is left out
 * where others have none.
 *
 * @param jobs - of all options
 * @returns one answer an option; at least one of them true
 */
export function ranked(jobs: readonly Job[]): boolean[] {
  return jobs.map(job => jobs.every(other => job.battery !== 'unknown' || sameJob(job, other)))
}
