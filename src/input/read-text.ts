import { accessSync, constants, createReadStream, readFileSync, type Stats, statSync } from 'node:fs'
import { resolve } from 'node:path'
import { InputError } from '../errors.ts'

/** Largest file read as one text, bytes. Ours: an hourly year of 20 columns has a few million. */
export const MAX_TEXT_BYTES = 50_000_000

/** Bytes read at a time. Ours: larger pieces are freed late by the garbage collector and fill the memory. */
const CHUNK_BYTES = 64 * 1024

/**
 * The whole text of a file named on the command line.
 *
 * @param path - file or pipe, or `-` for standard input
 * @returns its text, without a leading byte order mark
 * @throws InputError when it cannot be read, is a folder or a device, or is larger than `MAX_TEXT_BYTES`
 */
export async function readText(path: string): Promise<string> {
  const chunks: Uint8Array[] = []
  let nBytes = 0
  for await (const chunk of readBytes(path)) {
    nBytes += chunk.length
    if (nBytes > MAX_TEXT_BYTES) throw unreadable(path, TOO_LARGE)
    chunks.push(chunk)
  }
  return withoutMark(Buffer.concat(chunks).toString('utf8'))
}

/**
 * The bytes of a file named on the command line, chunk by chunk.
 *
 * @param path - file or pipe, or `-` for standard input
 * @throws InputError when it cannot be read, or is a folder or a device
 */
export async function* readBytes(path: string): AsyncGenerator<Uint8Array> {
  try {
    if (path !== '-') refuseDevice(statSync(path))
    const stream: AsyncIterable<Uint8Array> =
      path === '-' ? process.stdin : createReadStream(path, { highWaterMark: CHUNK_BYTES })
    yield* stream
  } catch (cause) {
    throw asReadError(path, cause)
  }
}

/**
 * The whole text of a file that a scenario names.
 *
 * @param folder - folder that a relative path starts from
 * @param path - file as the scenario names it, also in messages
 * @returns its text, without a leading byte order mark
 * @throws InputError when it is no file, cannot be read, or is larger than `MAX_TEXT_BYTES`
 */
export function readTextFrom(folder: string, path: string): string {
  try {
    const whole = resolve(folder, path)
    refuseUnlessFile(whole)
    if (statSync(whole).size > MAX_TEXT_BYTES) throw new NotReadable(TOO_LARGE)
    return withoutMark(readFileSync(whole, 'utf8'))
  } catch (cause) {
    throw asReadError(path, cause)
  }
}

/**
 * Refuses what cannot be read, or not twice: folders, pipes, devices.
 *
 * @param path - where it is
 * @param name - for messages
 * @throws InputError unless it is a file that may be read
 */
export function needFile(path: string, name: string): void {
  try {
    refuseUnlessFile(path)
    accessSync(path, constants.R_OK)
  } catch (cause) {
    throw asReadError(name, cause)
  }
}

/**
 * An error of the file system as a message.
 *
 * @param file - name for messages
 * @param cause - whatever was thrown while it was opened or read
 */
export function asReadError(file: string, cause: unknown): InputError {
  return unreadable(file, reason(cause), cause)
}

/** Why a path is not read. */
class NotReadable extends Error {}

const TOO_LARGE = `this file is larger than ${MAX_TEXT_BYTES / 1e6} MB; that is the limit`
const FOLDER = 'this is a folder; name a file in it'

function refuseDevice(stats: Stats): void {
  if (stats.isDirectory()) throw new NotReadable(FOLDER)
  if (stats.isCharacterDevice() || stats.isBlockDevice())
    throw new NotReadable('this is a device; name a file, or write - to read standard input')
}

function refuseUnlessFile(path: string): void {
  const stats = statSync(path)
  refuseDevice(stats)
  if (!stats.isFile()) throw new NotReadable('this is a pipe and is needed more than once; save it as a file first')
}

function withoutMark(content: string): string {
  return content.replace(/^\uFEFF/, '')
}

function unreadable(file: string, message: string, cause?: unknown): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message }], { cause })
}

function reason(cause: unknown): string {
  if (cause instanceof NotReadable) return cause.message
  const code = cause instanceof Error && 'code' in cause ? cause.code : undefined
  if (code === 'ENOENT') return 'there is no such file; check the name'
  if (code === 'ENOTDIR') return 'a part of this path is a file, not a folder; check the name'
  if (code === 'EISDIR') return FOLDER
  if (code === 'EACCES' || code === 'EPERM') return 'this file may not be read; check its permissions'
  return 'this file cannot be read'
}
