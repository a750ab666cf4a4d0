import { randomUUID } from 'node:crypto'
import { renameSync, rmSync, statSync } from 'node:fs'
import { mkdir, open, rm, stat, writeFile } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { UsageError } from '../errors.ts'

/** Content of a file to write; piece after piece where it need not fit into memory. */
export type Content = string | Uint8Array | AsyncIterable<Uint8Array>

/** Files that are being written beside their targets. */
const unfinished = new Set<string>()

/** Takes away what an interrupted run has half written; targets are untouched. */
export function removeUnfinished(): void {
  for (const path of unfinished) rmSync(path, { force: true })
}

/**
 * Writes a file whole or not at all: beside its target first, then renamed over it. A reader never meets half a file.
 *
 * @param path - target; its folder is made if missing
 * @param content - text (UTF-8) or bytes
 * @throws UsageError when the place cannot be written to
 */
export async function writeWhole(path: string, content: Content): Promise<void> {
  await writeSet(dirname(resolve(path)), { [basename(path)]: content })
}

/**
 * Writes several files of one folder: all are written beside their targets before the first is renamed, so that a full
 * disk leaves the old ones as they were.
 *
 * @param folder - made if missing
 * @param files - content by file name
 * @throws UsageError when the folder cannot be written to
 */
export async function writeSet(folder: string, files: Readonly<Record<string, Content>>): Promise<void> {
  const waiting: { readonly temporary: string; readonly target: string }[] = []
  try {
    await makeFolder(resolve(folder))
    for (const [name, content] of Object.entries(files)) {
      const temporary = join(folder, `.${name}.${randomUUID()}.part`)
      waiting.push({ temporary, target: join(folder, name) })
      unfinished.add(temporary)
      await writeThrough(temporary, content)
    }
    for (const { target } of waiting) refuseFolder(target)
    // In one go: a signal that comes now waits, so that old and new files are not mixed.
    for (const { temporary, target } of waiting) renameSync(temporary, target)
  } catch (cause) {
    await Promise.all(waiting.map(({ temporary }) => rm(temporary, { force: true })))
    throw asUsageError(folder, cause)
  } finally {
    for (const { temporary } of waiting) unfinished.delete(temporary)
  }
}

/** A folder in the way would stop the renaming half way, with some files new and some old. */
function refuseFolder(target: string): void {
  if (statSync(target, { throwIfNoEntry: false })?.isDirectory() === true)
    throw new UsageError(`cannot write ${target}: a folder of that name is in the way`)
}

/** Makes a folder and those above it. Node's own way of doing both never ends in file systems that refuse, such as /proc. */
async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder)
  } catch (cause) {
    if (codeOf(cause) === 'EEXIST' && (await stat(folder)).isDirectory()) return
    if (codeOf(cause) !== 'ENOENT' || dirname(folder) === folder) throw cause
    await makeFolder(dirname(folder))
    await mkdir(folder)
  }
}

/** Writes and waits until the disk has it: a rename may otherwise outlive the content. */
async function writeThrough(path: string, content: Content): Promise<void> {
  const file = await open(path, 'wx')
  try {
    await writeFile(file, content)
    await file.sync()
  } finally {
    await file.close()
  }
}

function asUsageError(folder: string, cause: unknown): unknown {
  const reasons: Readonly<Record<string, string>> = {
    EACCES: 'you may not write there',
    EPERM: 'you may not write there',
    EROFS: 'it is read-only',
    ENOSPC: 'the disk is full',
    EDQUOT: 'your share of the disk is used up',
    EFBIG: 'files there may not be that large',
    ENAMETOOLONG: 'the name is too long',
    ELOOP: 'its links lead in a circle',
    ENOENT: 'the folder cannot be made',
    ENOTDIR: 'a part of the path is a file',
    EEXIST: 'a file of that name is in the way',
  }
  if (cause instanceof UsageError) return cause
  const code = codeOf(cause)
  return code === '' ? cause : new UsageError(`cannot write to ${folder}: ${reasons[code] ?? code}`, { cause })
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : ''
}
