/**
 * The batch scheduler that `.ci/run` starts on this machine (`.config/start-scheduler.sh`). Without one the test of the
 * array job says so in a warning and is skipped.
 */
import { execFileSync } from 'node:child_process'

/** Whether a scheduler was started for the tests. */
export const HAS_SCHEDULER = process.env.LIFETALLY_SCHEDULER !== undefined

if (!HAS_SCHEDULER) {
  const said =
    'NO BATCH SCHEDULER: the array job did not run. Start one:  eval "$(sh .config/start-scheduler.sh)"  and test again.'
  console.error(`\n${'!'.repeat(said.length)}\n${said}\n${'!'.repeat(said.length)}\n`)
}

/** Runs a command of the scheduler; returns its output. */
export function ask(
  command: 'sbatch' | 'scontrol' | 'squeue',
  args: readonly string[],
  env: NodeJS.ProcessEnv = {},
): string {
  return execFileSync(command, args, {
    env: { ...process.env, ...env },
    encoding: 'utf8',
    timeout: 10_000,
    stdio: ['ignore', 'pipe', 'pipe'],
  }).trim()
}
