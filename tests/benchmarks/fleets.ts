import { spawnSync } from 'node:child_process'
import { closeSync, copyFileSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { runNode, type Usage } from './measure.ts'
import type { Report } from './report.ts'

const MAIN = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url))
const EXAMPLE = fileURLToPath(new URL('../../examples/fleet/', import.meta.url))

/** Draws where only memory is asked for. */
const FEW = 20

/**
 * Fleets of the homes of examples/fleet, from `dist`: what sites and draws cost, what threads save, and whether memory
 * grows with the sites (F1).
 *
 * @param report - takes the figures
 * @param large - 50,000 homes with 1,000 draws, and 500,000 homes too
 */
export function runFleets(report: Report, large: boolean): void {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-bench-'))
  const show = (name: string, sites: number, draws: number, threads: number): Usage => {
    const out = join(folder, 'out')
    const fleet = ['fleet', fleetOf(folder, sites), '--draws', `${draws}`, '--threads', `${threads}`, '--quiet']
    const usage = runNode([MAIN, ...fleet, '--out', out])
    report.figure(`${name}: processor time`, usage.cpuSeconds, 's')
    report.figure(`${name}: wall time`, usage.wallSeconds, 's')
    report.figure(`${name}: peak memory`, usage.peakMb, 'MB')
    const { failures } = JSON.parse(readFileSync(join(out, 'fleet.json'), 'utf8'))
    const events = failures.mean.value * draws
    report.figure(`${name}: processor time of a failure`, (usage.cpuSeconds / events) * 1e9, 'ns')
    return usage
  }
  try {
    report.head('Fleets, whole commands')
    show(`5,000 homes, ${FEW} draws`, 5_000, FEW, 1)
    show(`50,000 homes, ${FEW} draws`, 50_000, FEW, 1)
    show('5,000 homes, 1,000 draws', 5_000, 1000, 1)
    if (!large) return
    show(`500,000 homes, ${FEW} draws`, 500_000, FEW, 1)
    const one = show('50,000 homes, 1,000 draws, 1 thread', 50_000, 1000, 1)
    const two = show('50,000 homes, 1,000 draws, 2 threads', 50_000, 1000, 2)
    report.figure('50,000 homes: wall time of one thread / of two', one.wallSeconds / two.wallSeconds, '×')
  } finally {
    rmSync(folder, { recursive: true })
  }
}

function fleetOf(folder: string, sites: number): string {
  copyFileSync(join(EXAMPLE, 'template.yaml'), join(folder, 'template.yaml'))
  const table = openSync(join(folder, 'sites.csv'), 'w')
  const { status } = spawnSync(process.execPath, ['--import', 'tsx', join(EXAMPLE, 'make-sites.ts'), `${sites}`], {
    stdio: ['ignore', table, 'inherit'],
  })
  closeSync(table)
  if (status !== 0) throw new Error('make-sites.ts failed')
  const fleet = join(folder, 'fleet.yaml')
  writeFileSync(fleet, 'title: Bench\ntemplate: template.yaml\noption: As built\nsites: sites.csv\n')
  return fleet
}
