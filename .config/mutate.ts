/**
 * `npm run mutate`: mutation testing of the kernel. Changes one place of a source file at a time and looks who notices: first
 * the reference player, then, in a copy of the project, the tests worked out by hand. A change that nobody notices has
 * survived: a gap of the tests, or a change that makes no difference. The same sample for the same seed:
 * `npm run mutate -- --sample 100 --seed 2 --files claims,cover --lanes 1`.
 */

import { execFileSync, spawn } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { build } from 'esbuild'
import { openStream, streamKey } from '../src/numerics/random/streams.ts'
import { type Mutant, mutantsOf } from './mutants.ts'

const HISTORY = ['tests/history']
const LEDGER = ['by-year', 'cover', 'money', 'outages'].map(name => `tests/ledger/${name}.test.ts`)
const SWEEP = ['tests/ledger/other-cover.test.ts', 'tests/reference-player/staying-providers.test.ts']

/** Files that are changed, each with the tests worked out by hand that should notice. */
const KERNEL: Readonly<Record<string, readonly string[]>> = {
  'src/history/chance.ts': HISTORY,
  'src/history/downtime.ts': HISTORY,
  'src/history/first-failures.ts': HISTORY,
  'src/history/monitoring.ts': HISTORY,
  'src/history/next-lives.ts': HISTORY,
  'src/history/strings.ts': HISTORY,
  'src/history/unexpected.ts': ['tests/analysis/mean-controls.test.ts'],
  'src/history/with-waiting.ts': HISTORY,
  'src/history/without-waiting.ts': HISTORY,
  'src/numerics/lives/new-unit-life.ts': ['tests/numerics/new-unit-life.test.ts'],
  'src/ledger/claims.ts': LEDGER,
  'src/ledger/cover.ts': LEDGER,
  'src/ledger/repairs.ts': LEDGER,
  'src/ledger/visit-bills.ts': LEDGER,
  'src/ledger/residual-value.ts': LEDGER,
  'src/ledger/outages/down-share.ts': LEDGER,
  'src/ledger/outages/outage-windows.ts': LEDGER,
  'src/ledger/outages/outages.ts': LEDGER,
  'src/ledger/sweep/other-cover.ts': SWEEP,
  'src/ledger/sweep/row-savings.ts': SWEEP,
  'src/ledger/sweep/slot-walk.ts': SWEEP,
  'src/ledger/sweep/staying-providers.ts': SWEEP,
  'src/ledger/sweep/term-steps.ts': ['tests/ledger/term-steps.test.ts'],
}

/** Seconds of the processor after which a judge is stopped: the change has made a loop endless, and is noticed. */
const MOST_SECONDS = 60

const { values } = parseArgs({
  options: {
    sample: { type: 'string', default: '200' },
    seed: { type: 'string', default: '1' },
    files: { type: 'string', default: '' },
    lanes: { type: 'string', default: '2' },
  },
})

const wanted = values.files.split(',')
const files = Object.keys(KERNEL).filter(file => wanted.some(part => file.includes(part)))
const all = files.flatMap(file => mutantsOf(file, readFileSync(file, 'utf8')))
const mutants = sampled(all, Number(values.sample), Number(values.seed))
console.log(`${mutants.length} of ${all.length} changes to ${files.length} files`)

const survivors = new Set<Mutant>()
const lanes = Array.from({ length: Number(values.lanes) }, copyOfProject)
try {
  const byHand = [...new Set(files.flatMap(file => KERNEL[file] ?? []))]
  const [folder = ''] = lanes
  if ((await differsFromReference(folder)) || (await failsByHand(folder, byHand)))
    throw new Error('the tests fail without any change; nothing can be learnt')
  let next = 0
  const tryThem = async (folder: string): Promise<void> => {
    for (let i = next++; i < mutants.length; i = next++) {
      const mutant = mutants[i]
      if (mutant === undefined) continue
      const noticed = await isNoticed(folder, mutant)
      if (!noticed) survivors.add(mutant)
      console.log(`${noticed ? 'noticed ' : 'SURVIVED'} ${mutant.file}:${mutant.line} ${mutant.words}`)
    }
  }
  await Promise.all(lanes.map(tryThem))
} finally {
  for (const folder of lanes) rmSync(folder, { recursive: true, force: true })
}

console.log('\n| file | noticed | survived | places |\n|---|---|---|---|')
for (const file of files) row(`\`${file.slice('src/'.length)}\``, one => one.file === file)
row('all', () => true)

function row(name: string, belongs: (mutant: Mutant) => boolean): void {
  const [tried, left, places] = [mutants, [...survivors], all].map(list => list.filter(belongs).length)
  console.log(`| ${name} | ${(tried ?? 0) - (left ?? 0)} | ${left} | ${places} |`)
}

/** Some of a list, in its order: the same for the same seed. */
function sampled(from: readonly Mutant[], size: number, seed: number): Mutant[] {
  const stream = openStream(streamKey(seed, 'mutants'), 0)
  const ranked = from.map((mutant, place) => ({ mutant, place, rank: stream.uniform() }))
  const taken = ranked.sort((a, b) => a.rank - b.rank).slice(0, size)
  return taken.sort((a, b) => a.place - b.place).map(({ mutant }) => mutant)
}

/** A copy of what git knows of the project, as it is in the working tree. */
function copyOfProject(): string {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-mutants-'))
  const names = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], { encoding: 'utf8' })
  for (const name of names.trim().split('\n')) {
    mkdirSync(dirname(join(folder, name)), { recursive: true })
    cpSync(name, join(folder, name))
  }
  symlinkSync(resolve('node_modules'), join(folder, 'node_modules'))
  return folder
}

/** Whether one of the judges fails, or does not end. */
async function isNoticed(folder: string, mutant: Mutant): Promise<boolean> {
  const place = join(folder, mutant.file)
  const text = readFileSync(place, 'utf8')
  writeFileSync(place, mutant.text)
  try {
    return (await differsFromReference(folder)) || (await failsByHand(folder, KERNEL[mutant.file] ?? []))
  } finally {
    writeFileSync(place, text)
  }
}

async function differsFromReference(folder: string): Promise<boolean> {
  const outfile = join(folder, 'judge.mjs')
  await build({
    absWorkingDir: folder,
    entryPoints: ['tests/reference-player/judge.ts'],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    external: ['piscina'],
    logLevel: 'error',
    // libraries in the older module form ask for `require`
    banner: {
      js: "import { createRequire as ofBundle } from 'node:module'; const require = ofBundle(import.meta.url);",
    },
  })
  return fails(folder, [outfile])
}

function failsByHand(folder: string, tests: readonly string[]): Promise<boolean> {
  const words = ['run', '--config', '.config/vitest.ts', '--bail', '1', '--maxWorkers', '1']
  return fails(folder, ['node_modules/vitest/vitest.mjs', ...words, ...tests])
}

/** Whether a program ends with anything but 0, or is stopped by the limit that its shell sets. */
function fails(folder: string, words: readonly string[]): Promise<boolean> {
  const line = `ulimit -t ${MOST_SECONDS}; exec "$@"`
  const child = spawn('sh', ['-c', line, 'sh', process.execPath, ...words], { cwd: folder, stdio: 'ignore' })
  return new Promise(done => child.on('close', code => done(code !== 0)))
}
