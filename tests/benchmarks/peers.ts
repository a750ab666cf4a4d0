/**
 * Peers: programs that play the workloads with less in them, in C and in vectors of numpy, each in a process of its own.
 * The head of each says what it leaves out (`peers/`).
 */
import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { cumulativeValue } from './straight-loop.ts'
import { type HOUSEHOLD, populations, SITE } from './workloads.ts'

/** What a peer found for an option; per site in a fleet. */
export interface PeerOption {
  readonly failures: number
  readonly cost: number
  /** Standard error of the cost. */
  readonly error: number
}

/** A run of a peer. */
export interface PeerRun {
  readonly options: readonly PeerOption[]
  readonly cpuSeconds: number
}

/** A program that plays the workloads; null: what it needs is not on this machine. */
export type Peer = (world: string, draws: number, ...more: readonly string[]) => PeerRun | null

const folder = fileURLToPath(new URL('peers/', import.meta.url))
const SEED = '1'

/**
 * The peer in C, compiled on the spot.
 *
 * @param into - folder for the program
 */
export function peerInC(into: string): Peer {
  const program = join(into, 'peer')
  const made = spawnSync('cc', ['-O3', '-march=native', '-o', program, join(folder, 'peer.c'), '-lm'])
  return (world, draws, ...more) =>
    made.status === 0 ? outputOf(spawnSync(program, [world, String(draws), SEED, ...more])) : null
}

/** The peer in numpy. */
export function peerInNumpy(): Peer {
  const there = spawnSync('python3', ['-c', 'import numpy'])
  return (world, draws, ...more) =>
    there.status === 0
      ? outputOf(spawnSync('python3', [join(folder, 'peer.py'), world, String(draws), SEED, ...more]))
      : null
}

function outputOf({ status, stdout, stderr }: { status: number | null; stdout: Buffer; stderr: Buffer }): PeerRun {
  if (status !== 0) throw new Error(`a peer failed: ${stderr.toString()}`)
  return JSON.parse(stdout.toString())
}

/**
 * Writes a workload as the peers read it: rates, value of all energy up to each month's end, populations.
 *
 * @param file - path
 * @param size - HOUSEHOLD or COMMERCIAL
 * @param options - names of the populations of each
 */
export function writeWorld(file: string, size: typeof HOUSEHOLD, options: readonly (readonly string[])[]): void {
  const value = cumulativeValue(size.energyFactor)
  const rates = [SITE.discount, SITE.partsGrowth, SITE.labourGrowth].map(rate => Math.log(1 + rate))
  const all = new Map(Object.entries(populations(size.units, size.central)))
  const lines = [[SITE.horizonYears, ...rates, value.length - 1, options.length], value]
  for (const names of options) {
    lines.push([names.length])
    for (const name of names) {
      const own = all.get(name)
      if (own === undefined) throw new RangeError(`no population ${name}`)
      const { count, parts, labour, warrantyYears, share, detect, respond, modes } = own
      lines.push([count, parts, labour, warrantyYears, share, ...detect, ...respond, modes.length, ...modes.flat()])
    }
  }
  writeFileSync(file, `${lines.map(line => line.join(' ')).join('\n')}\n`)
}
