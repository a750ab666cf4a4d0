import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, inject, test } from 'vitest'

/**
 * What is not run here: an installation from the network, all tests, a terminal (tests/cli/ask.test.ts), and the owner's
 * fleet, whose commands tests/cli/owner-example.test.ts takes from the README.
 */
const FIT = 'npm run lifetally -- fit --register examples/owner/units.csv --tickets examples/owner/tickets.csv'
const NOT_HERE = [
  `${FIT} --failed-when "replaced,no output" --out records`,
  'cp records/fit.json examples/owner/fit.json',
  'npm run lifetally -- fleet examples/owner/fleet.yaml --date 2026-04-01 --out reserve',
  'npm ci && npm run test:all',
  'npm run lifetally -- new my-roof.yaml --ask',
  'npm init -y && npm install ./lifetally-0.1.0.tgz',
]

const README = readFileSync('README.md', 'utf8')
const BLOCKS = [...README.matchAll(/^```sh\n([\s\S]*?)^```/gm)].map(([, block = '']) =>
  block
    .trim()
    .split('\n')
    .map(line => line.replace(/\s+#.*/, '')),
)
const RUN = BLOCKS.map(lines => lines.filter(line => !NOT_HERE.includes(line))).filter(lines => lines.length > 0)

/** Blocks that are whole scenarios. */
const SCENARIOS = [...README.matchAll(/^```yaml\n((?:title|currency)[\s\S]*?)^```/gm)].map(
  ([, text = ''], index) => [index, text] as const,
)

const folder = mkdtempSync(join(tmpdir(), 'lifetally-readme-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Runs a line of the README in a folder, at few draws; a line with one part of a fleet is run for all of three parts. */
function play(line: string, cwd: string): void {
  const part = /--part \d+\/\d+/
  if (part.test(line)) for (const n of [1, 2, 3]) start(line.replace(part, `--part ${n}/3`), cwd)
  else start(line, cwd)
}

function start(line: string, cwd: string): void {
  const words = [...line.matchAll(/"([^"]*)"|\S+/g)].map(([word, quoted]) => quoted ?? word)
  const args = words.slice(words.indexOf('--') === 3 ? 4 : words.indexOf('lifetally') + 1)
  expect(`${line}: ${args[0]}`).toMatch(/: (estimate|fit|fleet|join|check|new)$/)
  const few = args[0] === 'estimate' || args[0] === 'fleet' ? ['--draws', '20'] : []
  const all = [inject('program'), ...args, ...few]
  const { status, stderr } = spawnSync(process.execPath, all, { cwd, encoding: 'utf8' })
  expect([line, status, status === 0 ? '' : stderr]).toEqual([line, 0, ''])
}

describe('N5: the commands of the README run as written', () => {
  test('those that are left out are on it', () => {
    expect(NOT_HERE.filter(line => !BLOCKS.flat().includes(line))).toEqual([])
  })

  test.each(RUN.map((lines, index) => [index, lines] as const))('block %i', (index, lines) => {
    const cwd = join(folder, `block-${index}`)
    mkdirSync(cwd)
    cpSync('examples', join(cwd, 'examples'), { recursive: true })
    // the reader's own fleet: the example with 24 sites
    cpSync('examples/fleet', cwd, { recursive: true })
    const sites = readFileSync('examples/fleet/sites.csv', 'utf8').split('\n').slice(0, 25)
    writeFileSync(join(cwd, 'sites.csv'), `${sites.join('\n')}\n`)
    for (const line of lines) play(line.replace('npm ci && ', ''), cwd)
  })

  test.each(SCENARIOS)('scenario %i is right', (_, text) => {
    const checked = spawnSync(process.execPath, [inject('program'), 'check', '-'], { input: text, encoding: 'utf8' })
    expect(checked.stderr).toBe('')
    expect(checked.stdout).toMatch(/Nothing is wrong\. [23] options/)
  })

  test('a buyer and a retailer have a scenario each', () => {
    expect(SCENARIOS).toHaveLength(2)
  })
})
