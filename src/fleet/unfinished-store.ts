import { createHash, type Hash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { open, readdir, rm, rmdir, stat, truncate } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { InputError, UsageError } from '../errors.ts'
import { LOCK_FILE } from '../input/folder-lock.ts'
import { writeWhole } from '../input/write-whole.ts'
import { SITES_HEADER } from './findings/sites-csv.ts'
import { type Part, type PartHead, partBytes, readPart } from './part-file.ts'

/** Where an unfinished run keeps what it has done: the state, and the lines of sites.csv. */
export class UnfinishedStore {
  readonly #stateFile: string
  /** File with the lines of sites.csv so far, header first. */
  readonly sitesFile: string
  #hash: Hash = createHash('sha256')

  constructor(stateFile: string, sitesFile: string) {
    this.#stateFile = stateFile
    this.sitesFile = sitesFile
  }

  /** Hash of the lines so far. */
  get linesHash(): string {
    return this.#hash.copy().digest('hex')
  }

  /** The state to continue from: what is kept of the same run, else the fresh one. */
  async open(fresh: Part, resume: boolean): Promise<Part> {
    const kept = resume ? await this.#kept(fresh.head) : null
    const bytes = Buffer.byteLength(SITES_HEADER) + (kept?.head.bytes ?? 0)
    // a machine that went down may have lost lines that the state counts
    if (kept !== null && (await this.#hashUpTo(bytes)) && this.linesHash === kept.head.linesHash) {
      await truncate(this.sitesFile, bytes)
      return kept
    }
    await rm(this.#stateFile, { force: true })
    await writeWhole(this.sitesFile, SITES_HEADER)
    this.#hash = createHash('sha256').update(SITES_HEADER)
    return fresh
  }

  /** Takes the first bytes of the lines into the hash; false where there are not so many. */
  async #hashUpTo(bytes: number): Promise<boolean> {
    this.#hash = createHash('sha256')
    const size = await stat(this.sitesFile).then(
      found => found.size,
      () => 0,
    )
    if (size < bytes) return false
    const stream: AsyncIterable<Uint8Array> = createReadStream(this.sitesFile, { end: bytes - 1 })
    for await (const piece of stream) this.#hash.update(piece)
    return true
  }

  async #kept(head: PartHead): Promise<Part | null> {
    const there = await stat(this.#stateFile).catch(() => null)
    if (there === null) return null
    const found = await readPart(this.#stateFile, head.version).catch((error: unknown) => {
      if (!(error instanceof InputError)) throw error
      const [fault] = error.problems
      throw new UsageError(
        `what is kept in ${this.#stateFile} cannot be used (${fault?.message}); leave --resume out to start again`,
        { cause: error },
      )
    })
    const same = (key: 'version' | 'seed' | 'mark' | 'part' | 'parts') => found.head[key] === head[key]
    if (same('version') && same('seed') && same('mark') && same('part') && same('parts') && sameShape(found.head, head))
      return found
    throw new UsageError(
      `what is kept in ${this.#stateFile} belongs to another run (other sites, seed, draws or version); leave --resume out to start again`,
    )
  }

  /** Appends lines; returns their number of bytes. */
  async append(lines: string): Promise<number> {
    const bytes = Buffer.from(lines)
    this.#hash.update(bytes)
    try {
      const file = await open(this.sitesFile, 'a')
      try {
        await file.appendFile(bytes)
      } finally {
        await file.close()
      }
    } catch (cause) {
      throw asDiskError(this.sitesFile, cause)
    }
    return bytes.length
  }

  async save(part: Part): Promise<void> {
    await writeWhole(this.#stateFile, partBytes(part))
  }

  async forget(): Promise<void> {
    // including files that a killed run wrote in part; the lock file stays
    const folder = dirname(this.#stateFile)
    for (const name of await readdir(folder))
      if (name !== LOCK_FILE) await rm(join(folder, name), { recursive: true, force: true })
    await rmdir(folder).catch(() => {})
  }
}

function sameShape(a: PartHead, b: PartHead): boolean {
  return JSON.stringify(a.shape) === JSON.stringify(b.shape)
}

function asDiskError(path: string, cause: unknown): unknown {
  const code = cause instanceof Error && 'code' in cause ? cause.code : undefined
  return code === 'ENOSPC' ? new UsageError(`cannot write to ${path}: the disk is full`, { cause }) : cause
}
