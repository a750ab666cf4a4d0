import { randomUUID } from 'node:crypto'
import { renameSync, rmSync } from 'node:fs'
import { open, writeFile } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { asUsageError, makeFolder, refuseFolder, removeEmpty } from './place.ts'

/** A file that is written already, on the same disk, and only has to be renamed. */
export interface WrittenFile {
  readonly movedFrom: string
}

/** Content of a file to write; piece after piece where it need not fit into memory. */
export type Content = string | Uint8Array | AsyncIterable<Uint8Array> | WrittenFile

/** Files that are being written next to their targets, and folders that were made for them. */
const unfinished = new Set<string>()
const madeFolders = new Set<string>()

/** Removes the unfinished files of an interrupted run; targets are unchanged. */
export function removeUnfinished(): void {
  for (const path of unfinished) rmSync(path, { force: true })
  removeEmpty([...madeFolders])
}

/**
 * Writes a file whole or not at all: next to its target first, then renamed over it.
 *
 * @param path - target; its folder is made if missing
 * @param content - text (UTF-8) or bytes
 * @throws UsageError when the folder cannot be written to
 */
export async function writeWhole(path: string, content: Content): Promise<void> {
  await writeSet(dirname(resolve(path)), { [basename(path)]: content })
}

/**
 * Writes several files of one folder: all are written next to their targets before the first is renamed, so that a full
 * disk leaves the old ones as they were, and no folder that was made for them.
 *
 * @param folder - made if missing
 * @param files - content by file name
 * @throws UsageError when the folder cannot be written to
 */
export async function writeSet(folder: string, files: Readonly<Record<string, Content>>): Promise<void> {
  const moves: { readonly from: string; readonly target: string }[] = []
  const temporaries: string[] = []
  const made: string[] = []
  try {
    await makeFolder(resolve(folder), made)
    for (const path of made) madeFolders.add(path)
    for (const [name, content] of Object.entries(files)) {
      const target = join(folder, name)
      if (isWritten(content)) {
        moves.push({ from: content.movedFrom, target })
        continue
      }
      const temporary = join(folder, `.${name}.${randomUUID()}.part`)
      moves.push({ from: temporary, target })
      temporaries.push(temporary)
      unfinished.add(temporary)
      await writeThrough(temporary, content)
    }
    for (const { target } of moves) refuseFolder(target)
    // Synchronous: a signal waits until all are renamed, so that old and new files are not mixed.
    for (const { from, target } of moves) renameSync(from, target)
  } catch (cause) {
    for (const temporary of temporaries) rmSync(temporary, { force: true })
    removeEmpty(made)
    throw asUsageError(folder, cause)
  } finally {
    for (const temporary of temporaries) unfinished.delete(temporary)
    for (const path of made) madeFolders.delete(path)
  }
}

function isWritten(content: Content): content is WrittenFile {
  return typeof content === 'object' && 'movedFrom' in content
}

/** Writes and flushes to the disk: after a crash the name could otherwise exist without its content. */
async function writeThrough(path: string, content: Exclude<Content, WrittenFile>): Promise<void> {
  const file = await open(path, 'wx')
  try {
    await writeFile(file, content)
    await file.sync()
  } finally {
    await file.close()
  }
}
