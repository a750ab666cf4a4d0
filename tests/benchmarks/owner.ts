import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'
import { runNode } from './measure.ts'
import type { Report } from './report.ts'

const MAIN = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url))
const DAY = 86_400_000
const FIRST_DAY = Date.UTC(2006, 0, 1) / DAY
const LAST_DAY = Date.UTC(2026, 2, 31) / DAY

/**
 * A register of 60,000 units with a million tickets, from `dist` (N5). The goal: a minute of processor time, 400 MB.
 *
 * @param report - takes the figures
 */
export function runOwner(report: Report): void {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-bench-'))
  try {
    report.head('Register and tickets')
    const [register, tickets] = [join(folder, 'units.csv'), join(folder, 'tickets.csv')]
    const nTickets = writeOwner(register, tickets, 60_000, 1_000_000)
    const files = ['--register', register, '--tickets', tickets, '--failed-when', 'replaced,no output']
    const usage = runNode([MAIN, 'fit', ...files, '--quiet', '--out', join(folder, 'out')])
    report.figure(`${nTickets} tickets: processor time`, usage.cpuSeconds, 's')
    report.figure(`${nTickets} tickets: peak memory`, usage.peakMb, 'MB')
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** Writes the two files; the number of tickets. */
function writeOwner(register: string, tickets: string, nUnits: number, atLeast: number): number {
  const stream = openStream(streamKey(1, 'owner bench'), 0)
  const whole = (from: number, to: number): number => from + Math.floor(stream.uniform() * (to - from + 1))
  const date = (day: number): string => new Date(day * DAY).toISOString().slice(0, 10)
  const units = ['unit,model,install_date']
  const days: number[] = []
  for (let unit = 0; unit < nUnits; unit++) {
    days.push(whole(FIRST_DAY, LAST_DAY - 400))
    units.push(`U${unit},m${unit % 3},${date(days[unit] ?? 0)}`)
  }
  writeFileSync(register, `${units.join('\n')}\n`)
  const file = openSync(tickets, 'w')
  writeSync(file, 'unit,date,closed,text\n')
  let n = 0
  while (n < atLeast) {
    let text = ''
    for (let unit = 0; unit < nUnits; unit++) {
      const from = days[unit] ?? 0
      const day = whole(from, LAST_DAY)
      // A quarter are failures; free texts hardly ever repeat, as in real files.
      const failure = stream.uniform() < 0.25
      text += `U${unit},${date(day)},${failure ? date(Math.min(day + 9, LAST_DAY)) : ''},${failure ? 'unit replaced' : 'visited'} order ${whole(1, 9_999_999)} by crew ${whole(1, 40)}\n`
      n++
    }
    writeSync(file, text)
  }
  closeSync(file)
  return n
}
