import { readFileSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { resolve } from 'node:path'
import { text } from 'node:stream/consumers'
import { InputError } from '../errors.ts'

/**
 * The whole text of a file that a user named.
 *
 * @param path - file, or `-` for standard input
 * @returns its text, without a leading byte order mark
 * @throws InputError when it cannot be read
 */
export async function readText(path: string): Promise<string> {
  if (path === '-') return withoutMark(await text(process.stdin))
  try {
    return withoutMark(await readFile(path, 'utf8'))
  } catch (cause) {
    throw new InputError([{ file: path, line: null, column: null, key: '', message: reason(cause) }], { cause })
  }
}

/**
 * The whole text of a file that a scenario names.
 *
 * @param folder - folder that a relative path starts from
 * @param path - file as the scenario names it, which messages repeat
 * @returns its text, without a leading byte order mark
 * @throws InputError when it cannot be read
 */
export function readTextBeside(folder: string, path: string): string {
  try {
    return withoutMark(readFileSync(resolve(folder, path), 'utf8'))
  } catch (cause) {
    throw new InputError([{ file: path, line: null, column: null, key: '', message: reason(cause) }], { cause })
  }
}

function withoutMark(content: string): string {
  return content.replace(/^\uFEFF/, '')
}

function reason(cause: unknown): string {
  const code = cause instanceof Error && 'code' in cause ? cause.code : undefined
  if (code === 'ENOENT') return 'there is no such file; check the name'
  if (code === 'EISDIR') return 'this is a folder; name a file in it'
  if (code === 'EACCES' || code === 'EPERM') return 'this file may not be read; check its permissions'
  return 'this file cannot be read'
}
