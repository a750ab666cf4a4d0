import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { describe, expect, test } from 'vitest'

const ROOT = join(import.meta.dirname, '..')
const FILES = readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
const page = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8')

/** Rows of the table under a heading: the text of their cells. */
function table(heading: string): string[][] {
  const rows = page.slice(page.indexOf(`\n${heading}\n`) + heading.length + 2).split('\n')
  const end = rows.findIndex(row => !row.startsWith('|'))
  return rows.slice(1, end).map(row => row.split('|').slice(1, -1))
}

/** Files and folders that a cell names, each with the folder of the one named before it. */
function places(cell: string): { readonly name: string; readonly near: string }[] {
  let near = ''
  return [...cell.matchAll(/`([^` ]+)`/g)].flatMap(([, name = '']) => {
    const isPlace = /\.(ts|json)$|\/$/.test(name) && !name.includes('NAME')
    if (!isPlace) return []
    const here = near
    if (name.includes('/')) near = name.endsWith('/') ? name : dirname(name)
    return [{ name, near: here }]
  })
}

/** Whether a name is a path under src or the root, or a file near the one named before. */
function exists({ name, near }: { readonly name: string; readonly near: string }): boolean {
  if ([ROOT, join(ROOT, 'src'), join(ROOT, 'src', near)].some(at => existsSync(join(at, name)))) return true
  return near === '' && FILES.some(file => basename(file) === name)
}

describe('DEVELOPERS.md names what is there', () => {
  const rows = table('| to … | go to |')
  test('the table of changes is found', () => {
    expect(rows.length).toBeGreaterThan(15)
    expect(rows.flatMap(([, where = '']) => places(where)).length).toBeGreaterThan(30)
  })

  test('every file and folder of the table of changes exists', () => {
    const missing = rows.flatMap(([what = '', where = '']) =>
      places(where)
        .filter(place => !exists(place))
        .map(({ name }) => `${what.trim()}: ${name}`),
    )
    expect(missing).toEqual([])
  })

  test('a name that is not there is seen', () => {
    expect(exists({ name: 'ledger/no-such-file.ts', near: '' })).toBe(false)
    expect(exists({ name: 'cover.ts', near: 'report' })).toBe(false)
  })

  test('the table of layers names every folder of src, and no other', () => {
    const named = table('| in `src/` | holds |').flatMap(([first = '']) =>
      [...first.matchAll(/`([\w-]+)\/`/g)].map(([, name]) => name),
    )
    const folders = readdirSync(join(ROOT, 'src'), { withFileTypes: true }).filter(entry => entry.isDirectory())
    expect(named.sort()).toEqual(folders.map(({ name }) => name).sort())
  })
})
