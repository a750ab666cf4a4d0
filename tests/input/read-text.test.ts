import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { streamCsv } from '../../src/input/csv.ts'
import { readText, readTextFrom } from '../../src/input/read-text.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-text-'))
const plain = join(folder, 'plain.yaml')
const huge = join(folder, 'huge.yaml')
const pipe = join(folder, 'pipe.yaml')
writeFileSync(plain, '\uFEFFtitle: Zoë\n')
writeFileSync(huge, '')
truncateSync(huge, 50_000_001)
execFileSync('mkfifo', [pipe])
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const DEVICE = 'this is a device; name a file, or write - to read standard input'
const FOLDER = 'this is a folder; name a file in it'
const MISSING = 'there is no such file; check the name'
const LARGE = 'this file is larger than 50 MB; that is the limit'

describe('a text that a user named', () => {
  test('is read without its byte order mark', async () => {
    expect(await readText(plain)).toBe('title: Zoë\n')
    expect(readTextFrom(folder, 'plain.yaml')).toBe('title: Zoë\n')
  })

  test('may come through a pipe', async () => {
    const [text] = await Promise.all([readText(pipe), writeFile(pipe, 'title: Piped\n')])
    expect(text).toBe('title: Piped\n')
  })

  test.each([
    ['/dev/zero', DEVICE],
    [folder, FOLDER],
    [join(folder, 'none'), MISSING],
    [join(plain, 'none'), 'a part of this path is a file, not a folder; check the name'],
    [huge, LARGE],
  ])('%s is refused', async (path, message) => {
    await expect(readText(path)).rejects.toThrow(`${path}\n  ${message}`)
  })
})

describe('a text that a scenario or fleet names', () => {
  test.each([
    ['/dev/zero', DEVICE],
    ['.', FOLDER],
    ['none', MISSING],
    ['huge.yaml', LARGE],
    ['pipe.yaml', 'this is a pipe and is needed more than once; save it as a file first'],
  ])('%s is refused', (path, message) => {
    expect(() => readTextFrom(folder, path)).toThrow(`${path}\n  ${message}`)
  })

  test('the rows of a device or pipe are refused before they are read', async () => {
    for (const path of ['/dev/zero', pipe])
      await expect(streamCsv(path, 'sites.csv').next()).rejects.toThrow(/^sites.csv/)
  })
})
