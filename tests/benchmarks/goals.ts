/**
 * The table of goals: the program against its peers and against itself, in one run on one machine. Whole processes on one
 * thread where not said otherwise; processor time, the least of interleaved runs.
 */
import { createHash } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { BlockPlayer, blockTasks, type Prepared, prepare } from '../../src/simulation/run.ts'
import { EXAMPLE } from './example.ts'
import { cpuSeconds, runNode, type Usage } from './measure.ts'
import { type Peer, type PeerRun, peerInC, peerInNumpy, writeWorld } from './peers.ts'
import { plainMeans } from './plain-loop.ts'
import { type Block, COMMERCIAL, HOUSEHOLD, LARGE_OPTIONS, OPTIONS, scenarioOf, single, under } from './workloads.ts'

const MAIN = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url))
const ROUNDS = 3
/** Largest z-score between a peer's mean and ours; above it, the peer does not play the same. */
const MOST_Z = 4

/** One line of the table. */
interface Row {
  readonly work: string
  readonly measured: string
  readonly goal: string
}

/**
 * Measures every goal and prints the table.
 *
 * @param large - also what takes minutes: a million draws, half a million homes, 0.01 % of every mean
 * @returns figures by name, for the file
 */
export async function runGoals(large: boolean): Promise<Record<string, string>> {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-goals-'))
  try {
    const rows: Row[] = []
    const say = (work: string, measured: string, goal: string): void => {
      rows.push({ work, measured, goal })
      process.stdout.write(`  ${work.padEnd(64)} ${measured.padEnd(30)} goal ${goal}\n`)
    }
    process.stdout.write('\nGoals: work, measured, goal\n')
    const peers = [peerInNumpy(), peerInC(folder)] as const
    await withinKernel(say)
    firstExample(folder, say)
    await againstPeers(folder, peers, say)
    if (large) {
      largeRuns(folder, say)
      toOneError(folder, peers[0], say)
    }
    return Object.fromEntries(rows.map(({ work, measured, goal }) => [work, `${measured} (goal ${goal})`]))
  } finally {
    rmSync(folder, { recursive: true })
  }
}

type Say = (work: string, measured: string, goal: string) => void

/** An estimate in a process of its own, its results read. */
function estimate(folder: string, scenario: string, ...more: readonly string[]): Usage & { readonly results: Results } {
  const out = join(folder, 'out')
  rmSync(out, { recursive: true, force: true })
  const usage = runNode([MAIN, 'estimate', scenario, '--quiet', '--out', out, ...more])
  return { ...usage, results: JSON.parse(readFileSync(join(out, 'results.json'), 'utf8')) }
}

/** What is read of results.json. */
interface Results {
  readonly draws?: number
  readonly options: readonly {
    readonly failures: { readonly mean: number; readonly standardError: number }
    readonly lifetimeCost: { readonly mean: number; readonly standardError: number }
    readonly costs: Readonly<Record<'parts' | 'labour' | 'outageEnergy', number>>
    readonly costStandardErrors: Readonly<Record<'parts' | 'labour' | 'outageEnergy', number>>
  }[]
}

async function againstPeers(folder: string, [numpy, c]: readonly [Peer, Peer], say: Say): Promise<void> {
  for (const { name, size, options, draws, goal } of [
    { name: 'household, 5 × 200,000', size: HOUSEHOLD, options: OPTIONS, draws: 200_000, goal: '1, 1.7, 10' },
    { name: '400 units, 2 × 30,000', size: COMMERCIAL, options: LARGE_OPTIONS, draws: 30_000, goal: '0.9, 1.1, 7' },
  ]) {
    const block = scenarioOf(size, options)
    const scenario = write(folder, 'workload.json', block)
    const world = join(folder, 'world.txt')
    writeWorld(world, size, options)
    const ours: Usage[] = []
    const theirs: (PeerRun | null)[][] = [[], []]
    for (let round = 0; round < ROUNDS; round++) {
      const run = estimate(folder, scenario, '--draws', String(draws), '--threads', '1')
      ours.push(run)
      ;[numpy, c].forEach((peer, i) => {
        const played = peer(world, draws)
        theirs[i]?.push(played)
        if (played !== null) holdMeans(name, run.results, played)
      })
    }
    const prepared = prepare(readScenario(JSON.stringify(block), 'workload.json', '.'), 1)
    // a tenth of the draws is enough to know what one costs
    const plain = 10 * (await cpuSeconds(() => options.map((_, o) => plainMeans(prepared, o, draws / 10)), 1))
    const own = least(ours)
    const ratios = [...theirs.map(runs => ratio(runs, own)), (plain / own).toFixed(2)]
    say(`${name}: numpy, C, plain loop / ours`, `${ratios.join(', ')} (ours ${own.toFixed(2)} s)`, goal)
  }
  const world = join(folder, 'world.txt')
  writeWorld(world, HOUSEHOLD, [['std']])
  const own: Usage[] = []
  const theirs: (PeerRun | null)[][] = [[], []]
  for (let round = 0; round < ROUNDS; round++) {
    own.push(fleet(folder, 50_000, 100))
    ;[numpy, c].forEach((peer, i) => {
      theirs[i]?.push(peer(world, 100, '50000'))
    })
  }
  const ours = least(own)
  const ratios = theirs.map(runs => ratio(runs, ours))
  say('50,000 homes × 100: numpy, C / ours', `${ratios.join(', ')} (ours ${ours.toFixed(2)} s)`, '1, 1')
}

function write(folder: string, name: string, content: Block): string {
  const file = join(folder, name)
  writeFileSync(file, JSON.stringify(content))
  return file
}

function least(runs: readonly { readonly cpuSeconds: number }[]): number {
  return Math.min(...runs.map(({ cpuSeconds: seconds }) => seconds))
}

function ratio(runs: readonly (PeerRun | null)[], ours: number): string {
  const there = runs.flatMap(run => run ?? [])
  return there.length === 0 ? 'not on this machine' : (least(there) / ours).toFixed(2)
}

/** A peer must give our means, or the ratio means nothing. Months of a twelfth change the worth of an outage by up to 0.5 %. */
function holdMeans(name: string, { options }: Results, peer: PeerRun): void {
  options.forEach(({ failures, costs, costStandardErrors }, i) => {
    const its = peer.options[i]
    if (its === undefined) throw new Error(`${name}: the peer played no option ${i}`)
    const cost = costs.parts + costs.labour + costs.outageEnergy
    const error = Math.hypot(its.error, costStandardErrors.parts, costStandardErrors.labour, 0.005 * costs.outageEnergy)
    const z = (its.cost - cost) / error
    const ofFailures = (its.failures - failures.mean) / (Math.SQRT2 * failures.standardError)
    if (Math.abs(z) > MOST_Z || Math.abs(ofFailures) > MOST_Z)
      throw new Error(`${name}, option ${i}: a peer plays something else, z ${z} of cost, ${ofFailures} of failures`)
  })
}

/** A fleet of the household's plain inverter. */
function fleet(folder: string, sites: number, draws: number): Usage {
  const template = scenarioOf(HOUSEHOLD, [['std']])
  write(folder, 'template.json', template)
  writeFileSync(join(folder, 'sites.csv'), `id\n${Array.from({ length: sites }, (_, i) => `home-${i}`).join('\n')}\n`)
  const file = write(folder, 'fleet.json', {
    title: 'Bench',
    template: 'template.json',
    option: 'Option 1',
    sites: 'sites.csv',
  })
  const out = join(folder, 'fleet-out')
  rmSync(out, { recursive: true, force: true })
  return runNode([MAIN, 'fleet', file, '--draws', String(draws), '--threads', '1', '--quiet', '--out', out])
}

/** Plain draws that the peer needs for the error that control variates reach with fewer. */
function toOneError(folder: string, numpy: Peer, say: Say): void {
  for (const { name, size, options, goal } of [
    { name: 'household', size: HOUSEHOLD, options: OPTIONS, goal: '5' },
    { name: '400 units', size: COMMERCIAL, options: LARGE_OPTIONS, goal: '3' },
  ]) {
    const scenario = write(folder, 'workload.json', scenarioOf(size, options))
    const world = join(folder, 'world.txt')
    writeWorld(world, size, options)
    const run = estimate(folder, scenario, '--precision', '0.0001', '--threads', '1')
    const target = 0.0001 * Math.min(...run.results.options.map(({ lifetimeCost }) => lifetimeCost.mean))
    const few = numpy(world, 10_000, 'means')
    if (few === null) {
      say(`${name} to one standard error: numpy / ours`, 'no numpy on this machine', goal)
      continue
    }
    // the widest difference of two options decides
    const variances = few.options.map(({ error }) => 10_000 * error * error).sort((a, b) => b - a)
    const draws = Math.ceil(((variances[0] ?? 0) + (variances[1] ?? 0)) / (target * target))
    const plain = numpy(world, draws, 'means')
    say(
      `${name} to one standard error (0.01 %): numpy / ours`,
      `${((plain?.cpuSeconds ?? 0) / run.cpuSeconds).toFixed(2)} (ours ${run.cpuSeconds.toFixed(2)} s)`,
      goal,
    )
  }
}

function firstExample(folder: string, say: Say): void {
  const run = (...more: readonly string[]): Usage => {
    const runs = Array.from({ length: 2 }, () => estimate(folder, EXAMPLE, ...more))
    return runs.reduce((best, next) => (next.cpuSeconds < best.cpuSeconds ? next : best))
  }
  const seconds = (value: number): string => `${value.toFixed(2)} s`
  const all = run('--draws', '20000', '--threads', '1')
  say('first example, --draws 20000, one thread, processor time', seconds(all.cpuSeconds), '3 s')
  const user = run('--threads', '1')
  say('first example as a user runs it, one thread, processor time', seconds(user.cpuSeconds), '2 s')
  const two = run('--threads', '2')
  say('first example as a user runs it, two threads, wall time', seconds(two.wallSeconds), '1.2 s')
  say('first example, 20 draws, processor time', seconds(run('--draws', '20', '--threads', '1').cpuSeconds), '0.6 s')
}

/** Ratios within the kernel: the draws alone, warm, in this thread. */
async function withinKernel(say: Say): Promise<void> {
  const draws = 20_000
  const bare = await drawn(scenarioOf(HOUSEHOLD), draws, true)
  const cover = await drawn(under(scenarioOf(HOUSEHOLD), 'default cover'), draws, true)
  say('default cover, exits, refusals / bare household, a lifetime', (cover / bare).toFixed(2), '1.4')
  for (const [name, block] of [
    ['bare', scenarioOf(HOUSEHOLD)],
    ['default cover', under(scenarioOf(HOUSEHOLD), 'default cover')],
  ] as const) {
    const plain = await drawn(block, draws, false)
    const both = await drawn(block, draws, true)
    say(`sweep / plain draws, ${name}`, (both / plain - 1).toFixed(2), '0.5')
  }
  const alone = single('pan', 20)
  const ratioOf = (await drawn(under(alone, 'waiting'), draws, false)) / (await drawn(alone, draws, false))
  say('a failure that waits for a visit / one that does not', ratioOf.toFixed(2), '1.6')
  const growth: number[] = []
  for (const units of [20, 200, 2000])
    growth.push(await drawn(single('pan', units), Math.max(200, 400_000 / units), false))
  const [few = 1, ...more] = growth.map(
    (seconds, i) => seconds / ([20, 200, 2000][i] ?? 1) / Math.max(200, 400_000 / ([20, 200, 2000][i] ?? 1)),
  )
  say(
    'a failure as units grow, 200 and 2,000 / 20',
    more.map(each => (each / few).toFixed(2)).join(', '),
    '1.15 at most',
  )
}

async function drawn(block: Block, draws: number, sweep: boolean): Promise<number> {
  const prepared = prepare(readScenario(JSON.stringify(block), 'workload.json', '.'), 1)
  return cpuSeconds(() => play(prepared, draws, sweep), 4)
}

function play(prepared: Prepared, draws: number, sweep: boolean): void {
  prepared.scenario.options.forEach((_, option) => {
    const player = new BlockPlayer([prepared])
    for (const task of blockTasks(option, draws, sweep)) player.play(task)
  })
}

function largeRuns(folder: string, say: Say): void {
  const scenario = write(folder, 'workload.json', scenarioOf(HOUSEHOLD))
  const runs = ['1', '2'].map(threads => {
    const run = estimate(folder, scenario, '--draws', '1000000', '--threads', threads)
    return {
      ...run,
      bytes: createHash('sha256')
        .update(readFileSync(join(folder, 'out', 'results.json')))
        .digest('hex'),
    }
  })
  const [one, two] = runs
  if (one === undefined || two === undefined) return
  say('memory at 1,000,000 draws of five options', `${one.peakMb.toFixed(0)} MB`, '250 MB')
  const same = one.bytes === two.bytes ? 'same bytes' : 'OTHER BYTES'
  say(
    'one thread / two, 16 million failures, wall time',
    `${(one.wallSeconds / two.wallSeconds).toFixed(2)}, ${same}`,
    '1.7, same bytes',
  )
  const [small, big] = [fleet(folder, 5_000, 20).peakMb, fleet(folder, 500_000, 20).peakMb]
  say('fleet, memory at 5,000 and 500,000 homes', `${small.toFixed(0)}, ${big.toFixed(0)} MB`, '122 to 190 MB')
}
