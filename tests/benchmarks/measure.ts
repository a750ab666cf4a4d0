import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** What a command cost. */
export interface Usage {
  /** User and system time of the process, its threads included, seconds. */
  readonly cpuSeconds: number
  readonly wallSeconds: number
  readonly peakMb: number
}

/**
 * Processor time of something done in this thread, least of several times: a loaded machine only ever adds.
 *
 * @param work - done anew each time
 * @param times - how often
 * @returns seconds
 */
export async function cpuSeconds(work: () => unknown, times = 3): Promise<number> {
  let least = Infinity
  for (let i = 0; i < times; i++) {
    const from = process.cpuUsage()
    await work()
    const { user, system } = process.cpuUsage(from)
    least = Math.min(least, (user + system) / 1e6)
  }
  return least
}

/**
 * Runs a Node command in a process of its own.
 *
 * @param parts - of the command line, after `node`
 * @param times - how often; the run with the least processor time counts
 */
export function runNode(parts: readonly string[], times = 1): Usage {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-bench-'))
  const file = join(folder, 'usage.json')
  try {
    let best: Usage | null = null
    for (let i = 0; i < times; i++) {
      const from = performance.now()
      const { status, stderr } = spawnSync(
        process.execPath,
        ['--import', fileURLToPath(new URL('usage.mjs', import.meta.url)), ...parts],
        {
          env: { ...process.env, BENCH_USAGE: file, BENCH_OUT: folder },
          encoding: 'utf8',
        },
      )
      if (status !== 0) throw new Error(`node ${parts.join(' ')} failed: ${stderr}`)
      const told: { cpuSeconds: number; peakMb: number } = JSON.parse(readFileSync(file, 'utf8'))
      const usage = { ...told, wallSeconds: (performance.now() - from) / 1000 }
      if (best === null || usage.cpuSeconds < best.cpuSeconds) best = usage
    }
    if (best === null) throw new RangeError('run it at least once')
    return best
  } finally {
    rmSync(folder, { recursive: true })
  }
}
