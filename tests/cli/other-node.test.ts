/**
 * The built program on other versions of Node gives the same bytes (N3). `.ci/run` fetches ready builds and names them
 * in LIFETALLY_OTHER_NODES, paths with ':' between them; without it the tests are skipped.
 */
import { spawnSync } from 'node:child_process'
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, inject, test } from 'vitest'

const nodes = (process.env.LIFETALLY_OTHER_NODES ?? '').split(':').filter(path => path !== '')
if (nodes.length === 0) {
  console.warn('LIFETALLY_OTHER_NODES is not set: not tried on another version of Node. .ci/run does it.')
}

const folder = mkdtempSync(join(tmpdir(), 'lifetally-nodes-'))
afterAll(() => rmSync(folder, { recursive: true }))

/** The example of a fleet with the first 240 of its sites. */
const FLEET = ['fleet', join(folder, 'fleet.yaml'), '--draws', '20'] as const
cpSync('examples/fleet', folder, { recursive: true })
const sites = readFileSync('examples/fleet/sites.csv', 'utf8').split('\n').slice(0, 241)
writeFileSync(join(folder, 'sites.csv'), `${sites.join('\n')}\n`)

/** What is played: small, yet with ranges, a roof of arrays, hours, records and a fleet in parts. */
const RUNS: Readonly<Record<string, readonly string[]>> = {
  'results.json of four options': ['estimate', 'examples/home-four-topologies.yaml', '--draws', '40'],
  'results.json of a shaded roof': ['estimate', 'examples/shaded-three-faces.yaml', '--draws', '40'],
  'results.json of a measured year': ['estimate', 'examples/measured-year.yaml', '--draws', '40'],
  'results.json from own records': ['estimate', 'examples/own-records.yaml', '--draws', '40'],
  'fit.json': ['fit', 'examples/service-records.csv'],
  'fleet.json': FLEET,
}

describe.skipIf(nodes.length === 0)('N3: the same bytes on other versions of Node', () => {
  const play = (node: string, args: readonly string[]): string => {
    const all = [inject('program'), ...args, '--quiet']
    const { status, stdout, stderr } = spawnSync(node, all, { encoding: 'utf8', maxBuffer: 1e9 })
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' })
    return stdout
  }

  test.each(Object.entries(RUNS))('%s', (_, args) => {
    const here = play(process.execPath, [...args, '--json'])
    for (const node of nodes) expect(play(node, [...args, '--json']) === here, node).toBe(true)
  })

  test('parts of a fleet played here and there join to the bytes of one run', () => {
    play(process.execPath, [...FLEET, '--out', join(folder, 'whole')])
    nodes.forEach((node, i) => {
      const parts = join(folder, `parts-${i}`)
      play(process.execPath, [...FLEET, '--part', '1/2', '--out', parts])
      play(node, [...FLEET, '--part', '2/2', '--out', parts])
      for (const joiner of [process.execPath, node]) {
        play(joiner, ['join', parts, '--out', join(folder, 'joined')])
        for (const name of ['fleet.json', 'sites.csv']) {
          const bytes = (of: string): string => readFileSync(join(folder, of, name), 'latin1')
          expect(bytes('joined') === bytes('whole'), `${name} by ${joiner}`).toBe(true)
        }
      }
    })
  }, 300_000)
})
