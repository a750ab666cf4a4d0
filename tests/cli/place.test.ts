import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { homeTemplate, siteTable, writeFleet } from '../fleet/fleets.ts'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { run, runAll } from './run.ts'

let folder: string
let blocked: string
let scenario: string
let fleet: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lifetally-places-'))
  scenario = join(folder, 'plain.yaml')
  writeFileSync(scenario, PLAIN)
  blocked = join(scenario, 'out')
  fleet = writeFleet(homeTemplate(), siteTable(5000))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

// These used to play for minutes to hours before they reported that nothing could be written.
test('a place that cannot be written to ends a command before the work: exit 2 with a message, nothing changed', async () => {
  const runs = await runAll([
    ['estimate', scenario, '--draws', '10000000', '--out', blocked],
    ['fleet', fleet, '--draws', '100000', '--out', blocked],
    ['fleet', fleet, '--draws', '100000', '--part', '1/2', '--out', blocked],
    ['fleet', fleet, '--draws', '100000', '--json', '--out', blocked],
    ['fit', 'examples/service-records.csv', '--out', blocked],
    ['fit', 'examples/service-records.csv', '--json', '--out', blocked],
    ['new', join(blocked, 'roof.yaml')],
  ])
  for (const { code, out, error } of runs)
    expect({ code, out, error }).toEqual({
      code: 2,
      out: '',
      error: `cannot write to ${blocked}: a part of the path is a file\n`,
    })
  expect(readdirSync(folder)).toEqual(['plain.yaml'])
  expect(readFileSync(scenario, 'utf8')).toBe(PLAIN)
}, 60_000)

test('a folder with the name of a file is reported before the work too', async () => {
  const out = join(folder, 'taken')
  for (const name of ['report.html', 'sites.csv', 'part-1-of-2.csv', 'failure.yaml'])
    mkdirSync(join(out, name), { recursive: true })
  const runs = await runAll([
    ['estimate', scenario, '--draws', '10000000', '--out', out],
    ['fleet', fleet, '--draws', '100000', '--out', out],
    ['fleet', fleet, '--draws', '100000', '--part', '1/2', '--out', out],
    ['fit', 'examples/service-records.csv', '--out', out],
  ])
  expect(runs.map(({ code, error }) => [code, error])).toEqual(
    ['report.html', 'sites.csv', 'part-1-of-2.csv', 'failure.yaml'].map(name => [
      2,
      `cannot write ${join(out, name)}: a folder of that name is in the way\n`,
    ]),
  )
  expect(readdirSync(out)).toEqual(['failure.yaml', 'part-1-of-2.csv', 'report.html', 'sites.csv'])
})

test('the results go to standard output whatever the place of the files', () => {
  const { code, out } = run(['estimate', scenario, '--draws', '20', '--json', '--out', blocked])
  expect(code).toBe(0)
  expect(JSON.parse(out).draws).toBe(20)
})

test('a wrong scenario is reported before its place is tried', () => {
  const { code, error } = run(['estimate', join(folder, 'none.yaml'), '--out', blocked])
  expect(code).toBe(1)
  expect(error).toContain('there is no such file')
  expect(existsSync(blocked)).toBe(false)
})

test('--out with an empty name is refused before the work (results used to land in the current folder)', async () => {
  const runs = await runAll([
    ['estimate', scenario, '--draws', '10000000', '--out', ''],
    ['fleet', fleet, '--draws', '100000', '--out', ''],
    ['fit', 'examples/service-records.csv', '--out', ' '],
    ['join', folder, '--out', ''],
  ])
  for (const { code, error } of runs) {
    expect(code).toBe(2)
    expect(error).toMatch(/^--out takes the name of a folder; found " ?"\. For the current folder write --out \.\n$/)
  }
})
