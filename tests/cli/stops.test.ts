import { spawn } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, inject, test } from 'vitest'
import { until } from '../fleet/until.ts'
import { failsAt, single, world } from '../worlds.ts'
import { processorSeconds } from './processor-time.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-stop-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Starting and reading take a third of a second of the processor. */
const AT_WORK_SECONDS = 0.8

/** One analysis of these 2,000 units in one thread takes longer than the test waits. */
const LARGE = world([single({ count: 2000, failure: failsAt(2) })])

/** How the program ended, and after how many milliseconds. */
async function stopped(signal: NodeJS.Signals): Promise<{ by: string | number | null; ms: number }> {
  const path = join(folder, `${signal}.json`)
  writeFileSync(path, JSON.stringify(LARGE))
  const words = ['estimate', path, '--draws', '20000', '--threads', '1', '--quiet', '--out', join(folder, 'out')]
  const child = spawn(process.execPath, [inject('program'), ...words], { stdio: 'ignore' })
  const ended = new Promise<string | number | null>(resolve => child.on('exit', (code, by) => resolve(by ?? code)))
  const cleared = setTimeout(() => child.kill('SIGKILL'), 55_000)
  await until('it is at work', () => processorSeconds(child.pid) > AT_WORK_SECONDS, 50)
  const at = performance.now()
  child.kill(signal)
  const by = await ended
  clearTimeout(cleared)
  return { by, ms: performance.now() - at }
}

test('a stop ends an estimate in the middle of one long analysis; it used to wait for its end', async () => {
  const ends = await Promise.all((['SIGINT', 'SIGTERM', 'SIGHUP'] as const).map(stopped))
  // the system ends it; a shell says 128 and the number of the signal
  expect(ends.map(({ by }) => by)).toEqual(['SIGINT', 'SIGTERM', 'SIGHUP'])
  expect(Math.max(...ends.map(({ ms }) => ms))).toBeLessThan(2000)
  expect(readdirSync(folder)).not.toContain('out')
})
