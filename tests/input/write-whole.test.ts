import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { writeSet, writeWhole } from '../../src/input/write-whole.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-write-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('files are written whole or not at all', () => {
  test('a file and its folder are made, an old file is replaced, nothing else stays', async () => {
    const path = join(folder, 'deep', 'er', 'a.txt')
    await writeWhole(path, 'one')
    await writeWhole(path, 'two')
    expect(readFileSync(path, 'utf8')).toBe('two')
    expect(readdirSync(join(folder, 'deep', 'er'))).toEqual(['a.txt'])
  })

  test('when one file of a set cannot be put in place, the others stay old and no half-written file stays', async () => {
    const place = join(folder, 'set')
    mkdirSync(join(place, 'b.txt', 'inside'), { recursive: true })
    writeFileSync(join(place, 'a.txt'), 'old')
    await expect(writeSet(place, { 'a.txt': 'new', 'b.txt': 'x' })).rejects.toThrow(
      `cannot write ${join(place, 'b.txt')}: a folder of that name is in the way`,
    )
    expect(readdirSync(place)).toEqual(['a.txt', 'b.txt'])
    expect(readFileSync(join(place, 'a.txt'), 'utf8')).toBe('old')
  })

  test('a failure while writing leaves the old files as they were', async () => {
    const place = join(folder, 'old')
    await writeSet(place, { 'a.txt': 'old' })
    // A name that no file may have fails when it is opened, after a.txt was written next to its target.
    await expect(writeSet(place, { 'a.txt': 'new', 'no/such/b.txt': 'x' })).rejects.toThrow()
    expect(readFileSync(join(place, 'a.txt'), 'utf8')).toBe('old')
    expect(readdirSync(place)).toEqual(['a.txt'])
  })

  test('a place below a file is reported plainly', async () => {
    writeFileSync(join(folder, 'file'), '')
    await expect(writeWhole(join(folder, 'file', 'a.txt'), 'x')).rejects.toThrow(
      `cannot write to ${join(folder, 'file')}: a file of that name is in the way`,
    )
    expect(existsSync(join(folder, 'file', 'a.txt'))).toBe(false)
  })
})
