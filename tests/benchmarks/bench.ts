/**
 * `npm run bench`: what the program costs on this machine, in one run, and against an earlier one.
 *
 *   npm run bench -- [--goals] [--draws N] [--large] [--out FILE] [--against FILE]
 *
 * First the table of goals; with --goals that alone.
 *
 * Figures are processor time, the least of several runs, since a loaded machine only ever adds; wall time is given too
 * where a person waits. Nothing here is a test: no figure fails anything.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { parseArgs } from 'node:util'
import { runAnalyses } from './analyses.ts'
import { runCommands } from './commands.ts'
import { runEnergy } from './energy.ts'
import { runFleets } from './fleets.ts'
import { runGoals } from './goals.ts'
import { runKernel } from './kernel.ts'
import { runOwner } from './owner.ts'
import { Report } from './report.ts'

const { values } = parseArgs({
  options: {
    draws: { type: 'string', default: '20000' },
    goals: { type: 'boolean', default: false },
    large: { type: 'boolean', default: false },
    out: { type: 'string', default: 'out/bench.json' },
    against: { type: 'string' },
  },
})
const draws = Number(values.draws)
if (!(draws >= 1000)) throw new RangeError(`--draws must be at least 1000, got ${values.draws}`)

const earlier: unknown = values.against === undefined ? null : JSON.parse(readFileSync(values.against, 'utf8'))
const report = new Report(earlier)
const goals = await runGoals(values.large)
if (!values.goals) {
  await runEnergy(report)
  await runKernel(report, draws)
  await runAnalyses(report, draws)
  runCommands(report, draws, values.large)
  runFleets(report, values.large)
  runOwner(report)
}
mkdirSync(dirname(values.out), { recursive: true })
writeFileSync(values.out, report.json(goals))
process.stdout.write(`\nWritten to ${values.out}; compare a later run with: npm run bench -- --against ${values.out}\n`)
