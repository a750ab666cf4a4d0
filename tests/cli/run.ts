import { spawnSync } from 'node:child_process'

/** What a run of the program gave. */
export interface Run {
  readonly code: number | null
  readonly out: string
  readonly error: string
}

/** Runs the program from source as a person would. */
export function run(args: readonly string[], input = ''): Run {
  const { status, stdout, stderr } = spawnSync(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', ...args], {
    input,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1' },
  })
  return { code: status, out: stdout, error: stderr }
}
