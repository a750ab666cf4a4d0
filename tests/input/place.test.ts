import { spawnSync } from 'node:child_process'
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { needPlace } from '../../src/input/place.ts'
import { writeSet } from '../../src/input/write-whole.ts'
import { mountDisk, unmountDisk } from '../mounted-disk.ts'

let folder: string
const disks: string[] = []
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lifetally-place-'))
})
afterAll(() => {
  disks.forEach(unmountDisk)
  rmSync(folder, { recursive: true, force: true })
})

/** What is there before and after, name by name. */
const listed = (path: string) => readdirSync(path, { recursive: true }).sort()

/** The message of trying a place and that of writing to it. */
async function refusals(place: string): Promise<{ tried: string; written: string }> {
  const words = (error: unknown) => (error instanceof Error ? error.message : '')
  let tried = ''
  try {
    needPlace(place, ['a.txt'])
  } catch (error) {
    tried = words(error)
  }
  const written = await writeSet(place, { 'a.txt': 'x'.repeat(100_000) }).then(() => '', words)
  return { tried, written }
}

/** A disk of its own, removed at the end; null where none can be mounted. */
function disk(options: string): string | null {
  const place = mountDisk(options)
  if (place !== null) disks.push(place)
  return place
}

describe('a place is tried before the work, with the message that writing would end with', () => {
  test('a place that takes files: no message, nothing left, the folder not made', () => {
    mkdirSync(join(folder, 'good', 'old'), { recursive: true })
    writeFileSync(join(folder, 'good', 'a.txt'), 'mine')
    const before = listed(join(folder, 'good'))
    needPlace(join(folder, 'good'), ['a.txt'])
    needPlace(join(folder, 'good', 'new', 'er'), ['a.txt'])
    expect(listed(join(folder, 'good'))).toEqual(before)
  })

  test.each([
    ['a file in the way', 'file', 'a file of that name is in the way'],
    ['a file above', 'file/out', 'a part of the path is a file'],
    ['a file far above', 'file/out/deep', 'a part of the path is a file'],
    ['a link that leads nowhere', 'loose', 'a file of that name is in the way'],
    ['links in a circle', 'circle/out', 'its links lead in a circle'],
    ['a name that no disk takes', 'n'.repeat(300), 'the name is too long'],
  ])('%s', async (_, name, reason) => {
    const place = mkdtempSync(join(folder, 'in-'))
    writeFileSync(join(place, 'file'), 'mine')
    symlinkSync(join(place, 'nowhere'), join(place, 'loose'))
    symlinkSync(join(place, 'circle'), join(place, 'circle'))
    const before = listed(place)
    const words = `cannot write to ${join(place, name)}: ${reason}`
    expect(await refusals(join(place, name))).toEqual({ tried: words, written: words })
    expect(listed(place)).toEqual(before)
  })

  test('a folder that has the name of a file', async () => {
    mkdirSync(join(folder, 'named', 'a.txt'), { recursive: true })
    const words = `cannot write ${join(folder, 'named', 'a.txt')}: a folder of that name is in the way`
    expect(await refusals(join(folder, 'named'))).toEqual({ tried: words, written: words })
  })

  test('a file system that makes no folders', async () => {
    const words = 'cannot write to /proc/lifetally/out: the folder cannot be made'
    expect(await refusals('/proc/lifetally/out')).toEqual({ tried: words, written: words })
  })

  test('a full disk, also below folders that are still to be made', async () => {
    const place = disk('size=32k')
    if (place === null) return
    for (const name of ['', 'new', 'new/er']) {
      const words = `cannot write to ${join(place, name)}: the disk is full`
      expect(await refusals(join(place, name))).toEqual({ tried: words, written: words })
    }
    expect(listed(place)).toEqual([])
  })

  test('a disk that can only be read', async () => {
    const place = disk('ro')
    if (place === null) return
    for (const name of ['', 'new', 'new/er']) {
      const words = `cannot write to ${join(place, name)}: it is read-only`
      expect(await refusals(join(place, name))).toEqual({ tried: words, written: words })
    }
  })

  test('a folder in which another user may write', () => {
    const place = join(folder, 'locked')
    mkdirSync(place)
    chmodSync(place, 0o555)
    chmodSync(folder, 0o755)
    const script = join(folder, 'try.mjs')
    const from = (name: string) => JSON.stringify(join(process.cwd(), 'src/input', name))
    writeFileSync(
      script,
      `import { needPlace } from ${from('place.ts')}
       import { writeSet } from ${from('write-whole.ts')}
       const say = error => console.log(error.message)
       for (const place of [${JSON.stringify(place)}, ${JSON.stringify(join(place, 'new'))}]) {
         try { needPlace(place, []) } catch (error) { say(error) }
         await writeSet(place, { 'a.txt': 'x' }).catch(say)
       }`,
    )
    // The superuser may write anywhere, so the script then runs as nobody.
    const asNobody = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {}
    const { stdout } = spawnSync(process.execPath, ['--import', 'tsx', script], { ...asNobody, encoding: 'utf8' })
    const words = (name: string) => `cannot write to ${join(place, name)}: you may not write there\n`
    expect(stdout).toBe([words(''), words(''), words('new'), words('new')].join(''))
    expect(listed(place)).toEqual([])
    chmodSync(place, 0o755)
  })
})

test('a set of files that cannot be written leaves no folder that was made for it, and files of others stay', async () => {
  const place = join(folder, 'made', 'for', 'it')
  await expect(writeSet(place, { 'no/such/a.txt': 'x' })).rejects.toThrow('the folder cannot be made')
  expect(readdirSync(folder)).not.toContain('made')
  mkdirSync(dirname(place), { recursive: true })
  writeFileSync(join(dirname(place), 'letter.txt'), 'mine')
  await expect(writeSet(place, { 'no/such/a.txt': 'x' })).rejects.toThrow('the folder cannot be made')
  expect(listed(join(folder, 'made'))).toEqual(['for', 'for/letter.txt'])
})

test('a file that is written already is moved with the others, and stays where it was when they cannot be', async () => {
  const place = join(folder, 'moved')
  const lines = join(folder, 'lines.csv')
  writeFileSync(lines, 'rows')
  await expect(writeSet(place, { 'b.csv': { movedFrom: lines }, 'no/a.txt': 'x' })).rejects.toThrow()
  expect(readdirSync(folder)).toContain('lines.csv')
  await writeSet(place, { 'a.txt': 'x', 'b.csv': { movedFrom: lines } })
  expect(listed(place)).toEqual(['a.txt', 'b.csv'])
  expect(readdirSync(folder)).not.toContain('lines.csv')
})
