import { spawn } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeAll, describe, expect, inject, test } from 'vitest'
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'
import { homeTemplate, siteTable, writeFleet, writeFolder } from '../fleet/fleets.ts'
import { until } from '../fleet/until.ts'
import { growDisk, mountDisk, unmountDisk } from '../mounted-disk.ts'
import { run } from './run.ts'

const newFolder = (): string => mkdtempSync(join(tmpdir(), 'lifetally-fleet-out-'))
const NAMES = ['fleet.html', 'fleet.json', 'reserve.xlsx', 'sheet.html', 'sites.csv', 'years.csv'] as const

/** Bytes of all results in a folder. */
function resultsIn(folder: string): Record<string, string> {
  return Object.fromEntries(NAMES.map(name => [name, readFileSync(join(folder, name), 'latin1')]))
}

/** What `--quiet` says: the files, the one to open first. */
function filesIn(folder: string): string {
  return ['sheet.html', 'fleet.html', 'fleet.json', 'sites.csv', 'years.csv', 'reserve.xlsx']
    .map(name => `${join(folder, name)}\n`)
    .join('')
}

describe('lifetally fleet', () => {
  // several chunks of 500 sites
  const fleet = writeFleet(homeTemplate(), siteTable(1100))
  const asked = ['fleet', fleet, '--draws', '40', '--threads', '1', '--quiet'] as const
  let whole: Record<string, string>
  beforeAll(() => {
    const out = newFolder()
    expect(run([...asked, '--out', out])).toEqual({ code: 0, out: filesIn(out), error: '' })
    expect(readdirSync(out).sort()).toEqual(NAMES)
    whole = resultsIn(out)
  })

  test.each([
    ['SIGTERM', 1, 143],
    ['SIGKILL', 2, null],
  ] as const)(
    'F6, F4: stopped by %s at a random moment and resumed with --threads %i, the same bytes',
    async (signal, threads, code) => {
      const out = newFolder()
      const state = join(out, '.unfinished', 'part-1-of-1.state')
      const child = spawn(process.execPath, [inject('program'), ...asked, '--out', out])
      const ended = new Promise<number | null>(resolve => child.on('exit', resolve))
      await until('the first stretch is saved', () => existsSync(state), 30)
      // random in what follows, the same each run
      const wait = 100 * openStream(streamKey(1, signal), 0).coarse()
      await new Promise(resolve => setTimeout(resolve, wait))
      child.kill(signal)
      expect(await ended).toBe(code)
      expect(readdirSync(out)).toEqual(['.unfinished'])
      const resumed = run([...asked, '--threads', `${threads}`, '--resume', '--out', out])
      expect(resumed).toEqual({ code: 0, out: filesIn(out), error: '' })
      expect(resultsIn(out)).toEqual(whole)
      expect(readdirSync(out).sort()).toEqual(NAMES)
    },
  )

  test('a full disk is reported, leaves no result half-written, and loses no work', ({ skip }) => {
    const out = mountDisk('size=160k')
    if (out === null) return skip('no small disk')
    try {
      const full = run([...asked, '--out', out])
      expect(full.code).toBe(2)
      expect(full.error).toMatch(/^cannot write to \S+: the disk is full\n$/)
      expect(readdirSync(out)).toEqual(['.unfinished'])
      expect(readdirSync(join(out, '.unfinished')).filter(name => name.startsWith('.'))).toEqual([])
      growDisk(out, '20m')
      expect(run([...asked, '--resume', '--out', out])).toEqual({ code: 0, out: filesIn(out), error: '' })
      expect(resultsIn(out)).toEqual(whole)
    } finally {
      unmountDisk(out)
    }
  })

  test('a folder of scenarios: one that cannot be read is listed and left out, exit code 3 (F5)', () => {
    const folder = writeFolder({ 'a.yaml': homeTemplate(), 'b.yaml': homeTemplate(), 'c.yaml': 'title: broken' })
    rmSync(join(folder, 'b.yaml'))
    const out = newFolder()
    const { code, out: said } = run(['fleet', folder, '--draws', '20', '--out', out])
    expect(code).toBe(3)
    expect(said).toContain('Note: 1 site was left out; sites.csv says why.\n')
    expect(said.endsWith(`Written:\n${filesIn(out).replace(/^/gm, '  ').trimEnd()}\n`)).toBe(true)
    expect(JSON.parse(readFileSync(join(out, 'fleet.json'), 'utf8'))).toMatchObject({
      fleet: { listed: 2, played: 1, leftOut: 1 },
      leftOut: [{ id: 'c' }],
    })
  })

  test('parts by --part, joined by lifetally join; what is missing is reported, exit code 1', () => {
    const small = writeFleet(homeTemplate(), siteTable(30))
    const [parts, out, one] = [newFolder(), newFolder(), newFolder()]
    const play = (...more: string[]) => run(['fleet', small, '--draws', '20', '--quiet', ...more])
    expect(play('--part', '2/2', '--out', parts)).toEqual({
      code: 0,
      out: `${join(parts, 'part-2-of-2.part')}\n${join(parts, 'part-2-of-2.csv')}\n`,
      error: '',
    })
    const lacking = run(['join', parts, '--out', out])
    expect(lacking.code).toBe(1)
    expect(lacking.error).toBe(`${join(parts, 'part-2-of-2.part')}\n  is one of 2 parts; missing: 1\n`)
    expect(readdirSync(out)).toEqual([])
    expect(play('--part', '1/2', '--out', parts).code).toBe(0)
    const day = ['--date', '2027-03-14']
    expect(play('--part', '1/2', ...day, '--out', parts)).toMatchObject({
      code: 2,
      error: expect.stringContaining('--date is printed on the sheet of a whole fleet'),
    })
    const joined = run(['join', parts, ...day, '--out', out])
    expect(joined).toMatchObject({ code: 0, error: '' })
    expect(joined.out).toMatch(/^All 2 parts were played by version \S+\.\n30 sites played\.\n/)
    expect(run(['join', parts, '--quiet', '--out', out]).out).toBe(filesIn(out))
    expect(run(['join', parts, ...day, '--out', out]).out).toBe(joined.out)
    const whole = run(['fleet', small, '--draws', '20', ...day, '--out', one])
    expect(whole.code).toBe(0)
    expect(whole.out.split('\n').every(line => line.length <= 80 || line.includes(one))).toBe(true)
    expect(readFileSync(join(one, 'sheet.html'), 'utf8')).toContain('14 March 2027. ')
    expect(resultsIn(out)).toEqual(resultsIn(one))
  })
})
