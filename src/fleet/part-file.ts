import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { deflateSync, inflateSync } from 'node:zlib'
import { InputError } from '../errors.ts'
import { asReadError, needFile } from '../input/read-text.ts'
import type { FirstSite } from './fleet-results.ts'
import type { LeftOutSite } from './left-out-site.ts'
import { COLUMNS, FleetSums, lengthOf, type SumsShape } from './play/fleet-sums.ts'

/** A part file begins with these words and the version of the program that wrote it. */
const FIRST_WORDS = 'part of a lifetally fleet, version '
/** As version 0.1.0 began them. */
const OLD_FIRST_LINE = 'lifetally fleet part 1'

/** What a part says of itself and of its fleet. */
export interface PartHead {
  readonly version: string
  readonly seed: number
  readonly mark: string
  /** Part, from 1, of how many. */
  readonly part: number
  readonly parts: number
  /** Sites of the part that are done, in order; all of them in a finished part. */
  readonly done: number
  /** Bytes of the lines of sites.csv that belong to them, and the hash of these lines with their header. */
  readonly bytes: number
  readonly linesHash: string
  readonly shape: SumsShape
  /** What fleet.json holds in addition to the sums; equal in all parts. */
  readonly facts: FleetFacts
  readonly leftOut: readonly LeftOutSite[]
  /** The roofs of the part that come first (F7a). */
  readonly firstSites: readonly FirstSite[]
}

/** What a fleet is, for its report. */
export interface FleetFacts {
  readonly title: string
  readonly source: string
  readonly option: string | null
  /** Command line that reproduces the results. */
  readonly command: string
  readonly currency: string
  readonly horizonYears: number
  readonly listed: number
  readonly sites: number
  readonly reserve: {
    readonly interest: number
    readonly opening: number
    readonly confidence: number
    readonly inflation: number | null
  }
  readonly namedModels: readonly string[]
  readonly namedProviders: readonly string[]
  readonly providerExits: readonly ProviderExit[]
  readonly modelFacts: readonly ModelFact[]
  readonly groupSizes: readonly number[]
  readonly ignoredColumns: readonly string[]
  /** Names of what sites may buy later, sorted (C8). */
  readonly laterNames: readonly string[]
  /** Sites whose age is not known, and the age assumed for them (F7a). */
  readonly unknownAges: { readonly sites: number; readonly takenAs: string }
  readonly uncountedSurvivors: boolean
}

/** Draws in which a named provider leaves before the horizon. */
export interface ProviderExit {
  readonly name: string
  readonly goneInDraws: readonly number[]
}

/** Draws in which a bad batch struck a named model. */
export interface ModelFact {
  readonly name: string
  readonly struckInDraws: readonly number[]
}

/** A part or an unfinished run: what it is and its sums. */
export interface Part {
  readonly head: PartHead
  readonly sums: FleetSums
}

/**
 * A part as bytes: a line with the version of the program, a line with the hash of all that follows, the head, the sums.
 *
 * @param part - head and sums
 */
export function partBytes({ head, sums }: Part): Uint8Array {
  const columns = COLUMNS.map(column => Buffer.from(sums.integers(column).buffer))
  const line = JSON.stringify({ ...head, singleVariance: sums.singleVariance.map(String) })
  const hashed = Buffer.concat([Buffer.from(`${line}\n`), deflateSync(Buffer.concat(columns), { level: 1 })])
  return Buffer.concat([Buffer.from(`${FIRST_WORDS}${head.version}\n${sha256(hashed)}\n`), hashed])
}

/**
 * Reads a part.
 *
 * @param path - file
 * @param version - of this program; no other version's parts are read
 * @throws InputError when it is no whole part, or one of another version
 */
export async function readPart(path: string, version: string): Promise<Part> {
  needFile(path, path)
  const bytes = await readFile(path).catch((cause: unknown) => {
    throw asReadError(path, cause)
  })
  const [first, hash, hashed] = cutLines(bytes)
  const writtenBy =
    first === OLD_FIRST_LINE ? '0.1.0' : first.startsWith(FIRST_WORDS) ? first.slice(FIRST_WORDS.length) : null
  if (writtenBy === null)
    throw problem(path, 'this is no part of a fleet; parts are written by  lifetally fleet --part I/N')
  if (writtenBy !== version)
    throw problem(
      path,
      `was played by version ${writtenBy}; this is ${version}. Play it again, or join with that version`,
    )
  try {
    if (sha256(hashed) !== hash) throw new RangeError('hash')
    const headEnd = hashed.indexOf(10)
    const { singleVariance, ...head } = JSON.parse(hashed.subarray(0, headEnd).toString())
    return { head, sums: sumsOf(head.shape, inflateSync(hashed.subarray(headEnd + 1)), singleVariance) }
  } catch (cause) {
    throw problem(path, 'this part is damaged or was not written to its end; play it again', cause)
  }
}

/** The first two lines, and what follows them. */
function cutLines(bytes: Buffer): [first: string, second: string, rest: Buffer] {
  const firstEnd = bytes.indexOf(10)
  const secondEnd = bytes.indexOf(10, firstEnd + 1)
  const text = (from: number, to: number) => bytes.subarray(from, Math.max(from, to)).toString()
  return [text(0, firstEnd), text(firstEnd + 1, secondEnd), bytes.subarray(secondEnd + 1)]
}

function sumsOf(shape: SumsShape, raw: Buffer, singleVariance: readonly string[]): FleetSums {
  const sums = new FleetSums(shape)
  let at = 0
  for (const column of COLUMNS) {
    const length = lengthOf(column, shape)
    // a copy, since the bytes may not lie on a boundary of eight
    const start = raw.byteOffset + at
    sums.setIntegers(column, new BigInt64Array(raw.buffer.slice(start, start + 8 * length)))
    at += 8 * length
  }
  singleVariance.forEach((text, scope) => {
    sums.singleVariance[scope] = BigInt(text)
  })
  return sums
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}

function problem(file: string, message: string, cause?: unknown): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message }], { cause })
}
