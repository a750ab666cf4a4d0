import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { renderReport } from '../../src/report/render.ts'
import { resultsJson } from '../../src/report/write-json.ts'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { play, single, weibull, world } from '../worlds.ts'

let folder: string
let scenario: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lifetally-faults-'))
  scenario = join(folder, 'plain.yaml')
  writeFileSync(scenario, PLAIN)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Runs a line of shell; its exit code and what it said. */
async function shell(line: string): Promise<{ code: number | null; said: string }> {
  const child = spawn('bash', ['-c', `set -m 2>/dev/null; ${line}`], { env: { ...process.env, NO_COLOR: '1' } })
  let said = ''
  for (const stream of [child.stdout, child.stderr]) stream.on('data', chunk => (said += String(chunk)))
  const code = await new Promise<number | null>(resolve => child.on('close', resolve))
  return { code, said }
}

const program = (words: string) => `node --import tsx src/cli/main.ts ${words}`

describe('faults from outside', () => {
  test('stopped in the middle of the work: exit 128 and the signal, no file begun', async () => {
    const stops = [
      ['INT', 130],
      ['TERM', 143],
      ['HUP', 129],
      ['KILL', 137],
    ] as const
    const ends = stops.map(([signal]) => {
      const out = join(folder, `stopped-${signal}`)
      // It would need a minute to end; the signal comes once it has had time to begin.
      const run = program(`estimate ${scenario} --draws 1000000 --quiet --out ${out}`)
      return shell(`${run} & sleep 4; kill -s ${signal} $!; wait $!`)
    })
    expect((await Promise.all(ends)).map(({ code }) => code)).toEqual(stops.map(([, code]) => code))
    expect(readdirSync(folder)).toEqual(['plain.yaml'])
  })

  test('a disk that takes no more: exit 2 with words, the old files stay', async () => {
    const out = join(folder, 'full')
    mkdirSync(out)
    writeFileSync(join(out, 'results.json'), 'old')
    // The report is larger than what may be written, results.json is not.
    const { code, said } = await shell(`ulimit -f 100; ${program(`estimate ${scenario} --draws 20 --out ${out}`)}`)
    expect({ code, said }).toEqual({ code: 2, said: `cannot write to ${out}: files there may not be that large\n` })
    expect(readdirSync(out)).toEqual(['results.json'])
    expect(readFileSync(join(out, 'results.json'), 'utf8')).toBe('old')
  })

  test('a worker thread that dies: exit 1 with words, no hang, no file', async () => {
    const preload = join(folder, 'dies.cjs')
    writeFileSync(
      preload,
      // The threads that play are those that are handed something; others only load the program.
      `const { isMainThread, workerData } = require('node:worker_threads')
       if (!isMainThread && workerData !== null) process.exit(7)`,
    )
    const out = join(folder, 'died')
    const { code, said } = await shell(
      `NODE_OPTIONS="--require ${preload}" ${program(`estimate ${scenario} --draws 20000 --threads 2 --out ${out}`)}`,
    )
    expect(code).toBe(1)
    expect(said).toMatch(/met a fault of its own: .*\nPlease report this line/)
    expect(existsSync(out)).toBe(false)
  })
})

test('a clock that jumps changes no byte: results and report hold no moment of their making', async () => {
  const blocks = world([single({ failure: weibull(2, 9) }), single({ failure: weibull(3, 12) }, {}, 'Two')])
  const at = async (moment: string) => {
    vi.useFakeTimers({ toFake: ['Date'], now: new Date(moment) })
    try {
      const results = await play(blocks, { draws: 40 })
      return resultsJson(results) + renderReport(results, { audience: 'buyer', command: 'lifetally' })
    } finally {
      vi.useRealTimers()
    }
  }
  expect(await at('2041-12-31T23:59:59Z')).toBe(await at('1999-01-01T00:00:00Z'))
})
