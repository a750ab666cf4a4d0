import { spawn, spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { hostname, tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, inject, test } from 'vitest'
import { LOCK_FILE, lockFolder } from '../../src/input/folder-lock.ts'

const parent = (): string => mkdtempSync(join(tmpdir(), 'lifetally-lock-'))

/** What a killed run has left. */
function leave(folder: string, host: string, pid: number, started = ''): void {
  writeFileSync(join(folder, LOCK_FILE), JSON.stringify({ run: 'other', host, pid, started }))
}

describe('a folder for one run alone', () => {
  test('a second run is refused with a message; after the first it may, and nothing is left', async () => {
    const place = parent()
    const folder = join(place, 'a', 'work')
    const lock = await lockFolder(folder)
    await expect(lockFolder(folder)).rejects.toThrow(
      `another run (process ${process.pid}) is writing to ${folder}; wait for its end, stop it, or name another folder with --out`,
    )
    lock.need()
    lock.release()
    expect(readdirSync(place)).toEqual([])
    const next = await lockFolder(folder)
    writeFileSync(join(folder, 'kept'), '')
    next.release()
    expect(readdirSync(folder)).toEqual(['kept'])
  })

  test('what a killed run of this machine left is taken over at once, also where its number is used again', async () => {
    const folder = parent()
    writeFileSync(join(folder, 'kept'), '')
    const { pid } = spawnSync('true')
    leave(folder, hostname(), pid)
    ;(await lockFolder(folder)).release()
    leave(folder, hostname(), process.pid, 'another start')
    ;(await lockFolder(folder)).release()
    writeFileSync(join(folder, LOCK_FILE), 'half a li')
    ;(await lockFolder(folder)).release()
  })

  test('a run on another machine is known by its signs of life', async () => {
    const folder = parent()
    leave(folder, 'elsewhere', 1)
    const touching = setInterval(() => leave(folder, 'elsewhere', 1), 50)
    await expect(lockFolder(folder, 0.5)).rejects.toThrow('another run (process 1 on "elsewhere") is writing to')
    clearInterval(touching)
    const lock = await lockFolder(folder, 0.2)
    lock.need()
    leave(folder, 'elsewhere', 1)
    expect(() => lock.need()).toThrow(`another run has taken over ${folder}, so this one stops`)
    lock.release()
    expect(existsSync(join(folder, LOCK_FILE))).toBe(true)
  })
})

test('F6: the second of two fleets in one folder is refused, the first is whole (lines of both used to be mixed)', async () => {
  const folder = parent()
  const lines = ['id,age_years', ...Array.from({ length: 3000 }, (_, i) => `s${i},${i % 12}`)]
  writeFileSync(join(folder, 'sites.csv'), lines.join('\n'))
  writeFileSync(
    join(folder, 'template.yaml'),
    readFileSync('examples/fleet/template.yaml', 'utf8').replace('horizon_years: 25', 'horizon_years: 5'),
  )
  writeFileSync(join(folder, 'fleet.yaml'), 'template: template.yaml\nsites: sites.csv\n')
  const out = join(folder, 'out')
  const play = () => {
    const child = spawn(
      process.execPath,
      [inject('program'), 'fleet', join(folder, 'fleet.yaml'), '--draws', '20', '--quiet', '--out', out],
      { stdio: ['ignore', 'ignore', 'pipe'] },
    )
    let error = ''
    child.stderr.setEncoding('utf8').on('data', piece => {
      error += piece
    })
    return new Promise<{ code: number | null; error: string }>(resolve =>
      child.on('close', code => resolve({ code, error })),
    )
  }
  const runs = await Promise.all([play(), play()])
  const [first, second] = runs.sort((a, b) => (a.code ?? 9) - (b.code ?? 9))
  expect(first).toEqual({ code: 0, error: '' })
  expect(second?.code).toBe(2)
  expect(second?.error).toMatch(/^another run \(process \d+\) is writing to /)
  expect(readFileSync(join(out, 'sites.csv'), 'utf8').trim().split('\n')).toHaveLength(3001)
  expect(readdirSync(out).sort()).toEqual([
    'fleet.html',
    'fleet.json',
    'reserve.xlsx',
    'sheet.html',
    'sites.csv',
    'years.csv',
  ])
}, 60_000)
