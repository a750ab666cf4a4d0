import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { EXAMPLE } from './example.ts'
import { runNode } from './measure.ts'
import type { Report } from './report.ts'
import { HOUSEHOLD, scenarioOf } from './workloads.ts'

const MAIN = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url))

/**
 * Whole commands, each in a process of its own, from `dist`.
 *
 * @param report - takes the figures
 * @param draws - of each option
 * @param large - a million draws too
 */
export function runCommands(report: Report, draws: number, large: boolean): void {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-bench-'))
  try {
    report.head('Whole commands, cold')
    const bare = runNode(['-e', '0'], 5)
    report.figure('bare node: processor time', bare.cpuSeconds, 's')
    report.figure(
      'lifetally --version: processor time over bare node',
      runNode([MAIN, '--version'], 5).cpuSeconds - bare.cpuSeconds,
      's',
    )
    const estimate = (scenario: string, n: number, ...more: string[]): string[] => [
      MAIN,
      'estimate',
      scenario,
      '--draws',
      String(n),
      '--quiet',
      '--out',
      join(folder, 'out'),
      ...more,
    ]
    const show = (name: string, parts: readonly string[], times: number): number => {
      const usage = runNode(parts, times)
      report.figure(`${name}: processor time`, usage.cpuSeconds, 's')
      report.figure(`${name}: wall time`, usage.wallSeconds, 's')
      report.figure(`${name}: peak memory`, usage.peakMb, 'MB')
      return usage.wallSeconds
    }
    const one = show(`(a), ${draws} draws, 1 thread`, estimate(EXAMPLE, draws, '--threads', '1'), 2)
    const two = show(`(a), ${draws} draws, 2 threads`, estimate(EXAMPLE, draws, '--threads', '2'), 2)
    report.figure(`(a), ${draws} draws: wall time of one thread / of two`, one / two, '×')
    show(`(a), ${10 * draws} draws, threads as they pay`, estimate(EXAMPLE, 10 * draws), 1)
    const household = join(folder, 'household.json')
    writeFileSync(household, JSON.stringify(scenarioOf(HOUSEHOLD)))
    show(`household, ${draws} draws, 1 thread`, estimate(household, draws, '--threads', '1'), 2)
    if (large) show('household, 1,000,000 draws', estimate(household, 1_000_000), 1)
  } finally {
    rmSync(folder, { recursive: true })
  }
}
