import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { InputError } from '../errors.ts'
import { firstOf } from './findings/first-sites.ts'
import { SITES_HEADER } from './findings/sites-csv.ts'
import { type Part, type PartHead, readPart } from './part-file.ts'
import { FleetSums } from './play/fleet-sums.ts'

/** Reasons kept in fleet.json. */
const MOST_REASONS = 100

/** All parts of a fleet as one. */
export interface JoinedFleet extends Part {
  /** Files with the lines of sites.csv, in order, each with its header. */
  readonly sitesFiles: readonly string[]
}

/**
 * Joins the parts of a fleet, in any order (F4).
 *
 * @param paths - part files; the lines of their sites are next to them, same name, ending `.csv`
 * @param version - of this program
 * @returns the same sums as one run
 * @throws InputError when a part is missing, occurs twice, or belongs to another fleet, seed or version
 */
export async function joinParts(paths: readonly string[], version: string): Promise<JoinedFleet> {
  let first: { readonly path: string; readonly part: Part } | null = null
  const byNumber = new Map<number, { readonly path: string; readonly head: PartHead }>()
  const problems: [string, string][] = []
  let sums: FleetSums | null = null
  for (const path of paths) {
    const part = await readPart(path, version)
    const { head } = part
    const known = byNumber.get(head.part)
    if (known !== undefined) problems.push([path, `is part ${head.part}, as is ${known.path}; give each part once`])
    const foreign = first === null ? null : differs(first.part, part)
    if (foreign !== null && first !== null)
      problems.push([path, `${foreign} than ${first.path}; it belongs to another run`])
    if (head.done !== sitesOfPart(head)) problems.push([path, 'was not played to its end; play it again'])
    const fault = await faultOfLines(path, head)
    if (fault !== null)
      problems.push([sitesFileOf(path), `has the sites of ${path} and is ${fault}; play that part again`])
    byNumber.set(head.part, known ?? { path, head })
    first ??= { path, part }
    sums ??= new FleetSums(head.shape)
    if (problems.length === 0) sums.addSums(part.sums)
  }
  if (first === null || sums === null) throw new RangeError('nothing to join')
  const { parts } = first.part.head
  const missing = Array.from({ length: parts }, (_, i) => i + 1).filter(number => !byNumber.has(number))
  if (missing.length > 0 && problems.length === 0)
    problems.push([
      first.path,
      `is one of ${parts} parts; missing: ${missing.slice(0, 20).join(', ')}${missing.length > 20 ? ', …' : ''}`,
    ])
  if (problems.length > 0)
    throw new InputError(problems.map(([file, message]) => ({ file, line: null, column: null, key: '', message })))
  const inOrder = [...byNumber].sort(([a], [b]) => a - b).map(([, part]) => part)
  const leftOut = inOrder.flatMap(part => part.head.leftOut).slice(0, MOST_REASONS)
  const { listed } = first.part.head.facts
  return {
    head: {
      ...first.part.head,
      part: 1,
      parts: 1,
      done: listed,
      leftOut,
      firstSites: firstOf(inOrder.flatMap(part => part.head.firstSites)),
    },
    sums,
    sitesFiles: inOrder.map(({ path }) => sitesFileOf(path)),
  }
}

/** Sites that belong to a part. */
function sitesOfPart({ part, parts, facts: { listed } }: PartHead): number {
  return Math.floor((part * listed) / parts) - Math.floor(((part - 1) * listed) / parts)
}

async function faultOfLines(path: string, head: PartHead): Promise<string | null> {
  const file = sitesFileOf(path)
  const found = await stat(file).catch(() => null)
  if (found?.isFile() !== true) return 'missing'
  if (found.size !== Buffer.byteLength(SITES_HEADER) + head.bytes) return 'not whole'
  const hash = createHash('sha256')
  for await (const piece of linesOf([file])) hash.update(piece)
  return hash.digest('hex') === head.linesHash ? null : 'damaged'
}

/** File with the lines of sites.csv of a part. */
export function sitesFileOf(partFile: string): string {
  return `${partFile.replace(/\.part$/, '')}.csv`
}

/**
 * Lines of sites.csv of several files one after another, with one header.
 *
 * @param files - in order, each with a header line
 */
export async function* linesOf(files: readonly string[]): AsyncGenerator<Uint8Array> {
  for (const [place, file] of files.entries()) {
    const start = place > 0 ? Buffer.byteLength(SITES_HEADER) : 0
    try {
      const bytes: AsyncIterable<Uint8Array> = createReadStream(file, { start })
      yield* bytes
    } catch (cause) {
      const message = 'this file belongs to its part and can no longer be read'
      throw new InputError([{ file, line: null, column: null, key: '', message }], { cause })
    }
  }
}

function differs({ head: a }: Part, { head: b }: Part): string | null {
  if (a.seed !== b.seed) return 'has another seed'
  if (a.shape.draws !== b.shape.draws) return 'has another number of draws'
  if (a.mark !== b.mark) return 'has other sites'
  if (a.parts !== b.parts) return 'was cut into another number of parts'
  return null
}
