import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { constants, tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, inject, test, vi } from 'vitest'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { resultsJson } from '../../src/report/write-json.ts'
import { processorSeconds } from '../cli/processor-time.ts'
import { homeTemplate, siteTable, writeFleet } from '../fleet/fleets.ts'
import { until } from '../fleet/until.ts'
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

const program = (words: string) => `node ${inject('program')} ${words}`

describe('faults from outside', () => {
  test('stopped in the middle of the work: exit 128 and the signal, no file begun', async () => {
    const stops = [
      ['INT', 130],
      ['TERM', 143],
      ['HUP', 129],
      ['KILL', 137],
    ] as const
    const ends = stops.map(async ([signal]) => {
      const out = join(folder, `stopped-${signal}`)
      // It would need a minute to end; the signal comes once it is at work.
      const words = ['estimate', scenario, '--draws', '1000000', '--quiet', '--out', out]
      const child = spawn(process.execPath, [inject('program'), ...words], { stdio: 'ignore' })
      const ended = new Promise<number>(resolve =>
        child.on('exit', (code, by) => resolve(code ?? 128 + constants.signals[by ?? 'SIGKILL'])),
      )
      await until('it is at work', () => processorSeconds(child.pid) > 0.6, 50)
      child.kill(`SIG${signal}`)
      return ended
    })
    expect(await Promise.all(ends)).toEqual(stops.map(([, code]) => code))
    expect(readdirSync(folder)).toEqual(['plain.yaml'])
  })

  test('a full disk: exit 2 with a message, the old files stay', async () => {
    const out = join(folder, 'full')
    mkdirSync(out)
    writeFileSync(join(out, 'results.json'), 'old')
    writeFileSync(join(out, 'made-from.txt'), '../plain.yaml\n')
    // The report is larger than what may be written, results.json is not.
    const { code, said } = await shell(`ulimit -f 100; ${program(`estimate ${scenario} --draws 20 --out ${out}`)}`)
    expect({ code, said }).toEqual({ code: 2, said: `cannot write to ${out}: files there may not be that large\n` })
    expect(readdirSync(out).sort()).toEqual(['made-from.txt', 'results.json'])
    expect(readFileSync(join(out, 'results.json'), 'utf8')).toBe('old')
  })

  test.each([
    ['estimate', () => scenario, '--draws 20000'],
    ['fleet', () => writeFleet(homeTemplate(), siteTable(600)), '--draws 40'],
  ])(
    '%s: a worker thread that dies ends it with exit 1 and a message, no hang, no result',
    async (command, path, more) => {
      const preload = join(folder, 'dies.cjs')
      writeFileSync(
        preload,
        // The threads that play are those that receive data; others only load the program.
        `const { isMainThread, workerData } = require('node:worker_threads')
       if (!isMainThread && workerData !== null) process.exit(7)`,
      )
      const out = join(folder, `died-${command}`)
      const run = program(`${command} ${path()} ${more} --threads 2 --out ${out}`)
      const { code, said } = await shell(`NODE_OPTIONS="--require ${preload}" ${run}`)
      expect(code).toBe(1)
      expect(said).toMatch(/has a fault: .*\nPlease report this line/)
      // A fleet keeps what it has done, for --resume.
      expect(existsSync(out) ? readdirSync(out) : []).toEqual(command === 'fleet' ? ['.unfinished'] : [])
    },
  )

  test('a clock that runs backwards: the same bytes, also of a fleet and with a progress bar', async () => {
    const preload = join(folder, 'backwards.cjs')
    writeFileSync(
      preload,
      `let now = Date.now()
       Date.now = () => (now -= 60_000)
       let ticks = 1e9
       performance.now = () => (ticks -= 60_000)
       process.stderr.isTTY = true`,
    )
    // two stretches
    const path = writeFleet(homeTemplate(), siteTable(600))
    const written = async (name: string, set: string) => {
      const out = join(folder, name)
      const { code } = await shell(`${set} ${program(`fleet ${path} --draws 20 --threads 1 --out ${out}`)}`)
      const files = readdirSync(out).map(file => [file, readFileSync(join(out, file), 'latin1')])
      return { code, files: Object.fromEntries(files) }
    }
    const backwards = await written('backwards', `env -u NO_COLOR NODE_OPTIONS="--require ${preload}"`)
    expect(backwards).toEqual(await written('forwards', ''))
    expect(backwards.code).toBe(0)
    expect(Object.keys(backwards.files)).toEqual([
      'fleet.html',
      'fleet.json',
      'reserve.xlsx',
      'sheet.html',
      'sites.csv',
      'years.csv',
    ])
  })

  test('a table of sites that vanishes or changes while it is played: exit 1 with a message, no result', async () => {
    const path = writeFleet(homeTemplate(), siteTable(1600))
    const sites = join(dirname(path), 'sites.csv')
    const out = join(folder, 'vanished')
    const run = program(`fleet ${path} --draws 100 --threads 1 --out ${out}`)
    // The first chunk is saved: the table has been looked at, and is being played.
    const begun = `until [ -e ${join(out, '.unfinished/part-1-of-1.state')} ]; do sleep 0.02; done`
    const changed = await shell(`set +m; ${run} & ${begun}; echo >> ${sites}; wait $!`)
    expect(changed).toEqual({
      code: 1,
      said: 'sites.csv\n  the sites were changed while they were played; play the fleet again\n',
    })
    rmSync(out, { recursive: true })
    const gone = await shell(`set +m; ${run} & ${begun}; rm ${sites}; wait $!`)
    expect(gone).toEqual({ code: 1, said: 'sites.csv\n  there is no such file; check the name\n' })
    expect(readdirSync(out)).toEqual(['.unfinished'])
  })
})

test('a clock that jumps changes no byte: results and report contain no time of day', async () => {
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
