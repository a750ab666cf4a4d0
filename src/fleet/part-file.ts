import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { deflateSync, inflateSync } from 'node:zlib'
import { InputError } from '../errors.ts'
import { COLUMNS, FleetSums, lengthOf, type SumsShape } from './fleet-sums.ts'

/** First word of a part file. */
const FIRST_LINE = 'lifetally fleet part 1'

/** A site left out, as the report lists it. */
export interface LeftOutSite {
  readonly id: string
  readonly line: number | null
  readonly reason: string
}

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
  /** Bytes of the lines of sites.csv that belong to them. */
  readonly bytes: number
  readonly shape: SumsShape
  /** What fleet.json says beside the sums; equal in all parts. */
  readonly facts: FleetFacts
  readonly leftOut: readonly LeftOutSite[]
}

/** What a fleet is, for its report. */
export interface FleetFacts {
  readonly title: string
  readonly source: string
  readonly option: string | null
  /** Line that makes the results again. */
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
  readonly unusedColumns: readonly string[]
  readonly uncountedSurvivors: boolean
}

/** Draws in which a named provider is gone before the horizon. */
export interface ProviderExit {
  readonly name: string
  readonly goneInDraws: readonly number[]
}

/** What befell a named model in the draws. */
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
 * A part as bytes.
 *
 * @param part - head and sums
 */
export function partBytes({ head, sums }: Part): Uint8Array {
  const columns = COLUMNS.map(column => Buffer.from(sums.integers(column).buffer))
  const payload = deflateSync(Buffer.concat(columns), { level: 1 })
  const line = JSON.stringify({
    ...head,
    singleVariance: sums.singleVariance.map(String),
    payload: createHash('sha256').update(payload).digest('hex'),
  })
  return Buffer.concat([Buffer.from(`${FIRST_LINE}\n${line}\n`), payload])
}

/**
 * Reads a part.
 *
 * @param path - file
 * @throws InputError when it is no whole part
 */
export async function readPart(path: string): Promise<Part> {
  const bytes = await readFile(path).catch((cause: unknown) => {
    throw problem(path, 'this file cannot be read; check the name', cause)
  })
  const firstEnd = bytes.indexOf(10)
  const headEnd = bytes.indexOf(10, firstEnd + 1)
  if (bytes.subarray(0, firstEnd).toString() !== FIRST_LINE || headEnd < 0)
    throw problem(path, 'this is no part of a fleet; parts are written by  lifetally fleet --part I/N')
  try {
    const { singleVariance, payload, ...head } = JSON.parse(bytes.subarray(firstEnd + 1, headEnd).toString())
    const packed = bytes.subarray(headEnd + 1)
    if (createHash('sha256').update(packed).digest('hex') !== payload) throw new RangeError('payload')
    const raw = inflateSync(packed)
    const sums = new FleetSums(head.shape)
    let at = 0
    for (const column of COLUMNS) {
      const length = lengthOf(column, head.shape)
      // a copy, since the bytes may not lie on a boundary of eight
      sums.setIntegers(
        column,
        new BigInt64Array(raw.buffer.slice(raw.byteOffset + at, raw.byteOffset + at + 8 * length)),
      )
      at += 8 * length
    }
    singleVariance.forEach((text: string, scope: number) => {
      sums.singleVariance[scope] = BigInt(text)
    })
    return { head, sums }
  } catch (cause) {
    throw problem(path, 'this part is damaged or was not written to its end; play it again', cause)
  }
}

function problem(file: string, message: string, cause?: unknown): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message }], { cause })
}
