import { spawn, spawnSync } from 'node:child_process'
import { inject } from 'vitest'

/** What a run of the program gave. */
export interface Run {
  readonly code: number | null
  readonly out: string
  readonly error: string
}

/** Runs the built program as a person would. */
export function run(args: readonly string[], input = ''): Run {
  const { status, stdout, stderr } = spawnSync(process.execPath, [inject('program'), ...args], {
    input,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1' },
  })
  return { code: status, out: stdout, error: stderr }
}

/** Runs the program several times, two at once, without input; the results in order. */
export async function runAll(calls: readonly (readonly string[])[]): Promise<Run[]> {
  const runs: Run[] = []
  let next = 0
  const lane = async (): Promise<void> => {
    for (let at = next++; at < calls.length; at = next++) runs[at] = await runOnce(calls[at] ?? [])
  }
  await Promise.all([lane(), lane()])
  return runs
}

function runOnce(args: readonly string[]): Promise<Run> {
  const child = spawn(process.execPath, [inject('program'), ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, NO_COLOR: '1' },
  })
  let out = ''
  let error = ''
  child.stdout.setEncoding('utf8').on('data', chunk => {
    out += chunk
  })
  child.stderr.setEncoding('utf8').on('data', chunk => {
    error += chunk
  })
  return new Promise(resolve => child.on('close', code => resolve({ code, out, error })))
}
