import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'
import { homeTemplate, siteTable, writeFleet } from '../fleet/fleets.ts'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { FuzzRun, LONG } from './fuzz-run.ts'

/** Exit code by signal; null: the system ended it. */
const STOPS = [
  ['SIGINT', 130],
  ['SIGTERM', 143],
  ['SIGKILL', null],
] as const

let folder: string
let fleet: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lifetally-stops-'))
  writeFileSync(join(folder, 'plain.yaml'), PLAIN)
  fleet = writeFleet(homeTemplate(), siteTable(1100))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Each with enough work to be stopped in, in threads where it has them. */
const COMMANDS: Readonly<Record<string, () => readonly string[]>> = {
  estimate: () => ['estimate', join(folder, 'plain.yaml'), '--draws', '400', '--threads', '2', '--quiet'],
  fit: () => ['fit', 'examples/service-records.csv', '--quiet'],
  fleet: () => ['fleet', fleet, '--draws', '40', '--threads', '2', '--quiet'],
}

/** Runs the program, stopped after some time; its exit code, what it said, how long it ran. */
async function ended(args: readonly string[], stop?: { readonly signal: NodeJS.Signals; readonly afterMs: number }) {
  const start = performance.now()
  const child = spawn(process.execPath, [inject('program'), ...args], { stdio: 'pipe' })
  let said = ''
  for (const stream of [child.stdout, child.stderr]) stream.on('data', chunk => (said += String(chunk)))
  const timer = stop === undefined ? undefined : setTimeout(() => child.kill(stop.signal), stop.afterMs)
  const code = await new Promise<number | null>(resolve => child.on('close', resolve))
  clearTimeout(timer)
  // the files it wrote are named, one a line, also where it is to be quiet
  const words = said.split('\n').filter(line => !line.startsWith(folder))
  return { code, said: words.join('\n'), ms: performance.now() - start }
}

function filesIn(place: string): Record<string, string> {
  const names = existsSync(place) ? readdirSync(place, { withFileTypes: true }) : []
  return Object.fromEntries(
    names.filter(file => file.isFile()).map(({ name }) => [name, readFileSync(join(place, name), 'latin1')]),
  )
}

describe.each(Object.entries(COMMANDS))('%s stopped at a random moment', (command, words) => {
  const fuzz = new FuzzRun(`stops of ${command}`)

  test(
    'all files or none, no file of others touched, the right exit code, and no message of a fault',
    LONG,
    async () => {
      const out = join(folder, command)
      const whole = await ended([...words(), '--out', out])
      expect(whole).toMatchObject({ code: 0, said: '' })
      const files = filesIn(out)
      const stream = openStream(streamKey(fuzz.settings(1).seed, command), 0)
      for (let at = 0; at < fuzz.settings(1).numRuns; at++) {
        const place = join(folder, `${command}-${at}`)
        mkdirSync(place)
        writeFileSync(join(place, 'letter.txt'), 'mine')
        const [signal, code] = STOPS[Math.floor(3 * stream.uniform())] ?? STOPS[0]
        const afterMs = 1.05 * whole.ms * stream.uniform()
        await fuzz.try(`${command} ${signal} after ${Math.round(afterMs)} ms`, signal, async () => {
          const run = await ended([...words(), '--out', place], { signal, afterMs })
          expect(run.said).toBe('')
          const { 'letter.txt': letter, ...left } = filesIn(place)
          expect(letter).toBe('mine')
          const shown = Object.fromEntries(Object.entries(left).filter(([name]) => !name.startsWith('.')))
          if (Object.keys(shown).length > 0) expect(shown).toEqual(files)
          if (run.code === 0) expect(shown).toEqual(files)
          // A signal that comes before the program has begun to listen ends it as the system does.
          else expect([code, null]).toContain(run.code)
          if (signal !== 'SIGKILL') expect(Object.keys(left).filter(name => name.startsWith('.'))).toEqual([])
          if (command === 'fleet' && run.code !== 0) {
            expect(await ended([...words(), '--resume', '--out', place])).toMatchObject({ code: 0, said: '' })
            const { 'letter.txt': still, ...resumed } = filesIn(place)
            expect({ still, resumed }).toEqual({ still: 'mine', resumed: files })
          }
          rmSync(place, { recursive: true, force: true })
          return run.code === 0
            ? 'was done already'
            : Object.keys(shown).length > 0
              ? 'stopped, all files'
              : 'stopped, none'
        })
      }
    },
  )
})
