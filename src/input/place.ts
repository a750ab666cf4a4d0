import { randomUUID } from 'node:crypto'
import {
  closeSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { mkdir, stat } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import { UsageError } from '../errors.ts'

/** Bytes written to test a folder. Ours: less than any report has, so that no folder is refused that would do. */
const TRIED_BYTES = 64 * 1024

/**
 * Checks before a long run that its files can be written to a folder. The folder is not made: where it is missing, the
 * one above it is tested. No file remains.
 *
 * @param folder - where files are to be written
 * @param names - of the files
 * @throws UsageError with the message of a failed write
 */
export function needPlace(folder: string, names: readonly string[]): void {
  try {
    const whole = resolve(folder)
    const there = nearestFolder(whole)
    tryPlace(there, there !== whole)
  } catch (cause) {
    throw asUsageError(folder, cause)
  }
  for (const name of names) refuseFolder(join(folder, name))
}

/**
 * Refuses a target that is a folder: renaming would stop there, with some files new and some old.
 *
 * @param target - file to be written
 * @throws UsageError when there is a folder of its name
 */
export function refuseFolder(target: string): void {
  if (statSync(target, { throwIfNoEntry: false })?.isDirectory() === true)
    throw new UsageError(`cannot write ${target}: a folder of that name is in the way`)
}

/**
 * Makes a folder and those above it. `recursive` of Node does not end in file systems that refuse, such as /proc.
 *
 * @param folder - whole path
 * @param made - filled with each folder that was made, the innermost last
 * @throws Error of the file system
 */
export async function makeFolder(folder: string, made: string[]): Promise<void> {
  try {
    await makeOne(folder, made)
  } catch (cause) {
    if (codeOf(cause) !== 'ENOENT' || dirname(folder) === folder) throw cause
    await makeFolder(dirname(folder), made)
    await makeOne(folder, made)
  }
}

/**
 * Removes folders, the innermost first, as far as they are empty.
 *
 * @param folders - the innermost last
 */
export function removeEmpty(folders: readonly string[]): void {
  for (const folder of [...folders].reverse()) {
    try {
      rmdirSync(folder)
    } catch {
      return
    }
  }
}

/**
 * A refusal of the file system as a message.
 *
 * @param folder - that was to be written to, as the user named it
 * @param cause - whatever was thrown
 * @returns a UsageError; the cause itself where it is not of the file system
 */
export function asUsageError(folder: string, cause: unknown): unknown {
  if (cause instanceof UsageError) return cause
  const code = codeOf(cause)
  return code === '' ? cause : new UsageError(`cannot write to ${folder}: ${REASONS[code] ?? code}`, { cause })
}

const REASONS: Readonly<Record<string, string>> = {
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

/** Makes a folder unless it exists: another run may make the same one at the same moment. */
async function makeOne(folder: string, made: string[]): Promise<void> {
  try {
    await mkdir(folder)
    made.push(folder)
  } catch (cause) {
    if (codeOf(cause) !== 'EEXIST' || (await stat(folder).catch(() => null))?.isDirectory() !== true) throw cause
  }
}

/** The folder itself, or the innermost existing one above it. */
function nearestFolder(whole: string): string {
  for (let path = whole; ; path = dirname(path)) {
    const found = foundAt(path)
    if (found === 'folder') return path
    if (found === 'other') throw Object.assign(new Error(path), { code: path === whole ? 'EEXIST' : 'ENOTDIR' })
  }
}

function foundAt(path: string): 'folder' | 'other' | 'nothing' {
  try {
    return statSync(path).isDirectory() ? 'folder' : 'other'
  } catch (cause) {
    if (codeOf(cause) === 'ENOTDIR') return 'nothing'
    if (codeOf(cause) !== 'ENOENT') throw cause
    // A link to a missing file prevents it too.
    return lstatSync(path, { throwIfNoEntry: false }) === undefined ? 'nothing' : 'other'
  }
}

/** Writes a file, in a new folder where folders will have to be made, and removes both. */
function tryPlace(folder: string, inNewFolder: boolean): void {
  const name = join(folder, `.${randomUUID()}.part`)
  try {
    if (inNewFolder) mkdirSync(name)
    const file = openSync(inNewFolder ? join(name, 'tried') : name, 'wx')
    try {
      writeFileSync(file, new Uint8Array(TRIED_BYTES))
      // A network disk may report only now that it is full.
      fsyncSync(file)
    } finally {
      closeSync(file)
    }
  } finally {
    rmSync(name, { recursive: true, force: true })
  }
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : ''
}
