import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'

const ROOT = join(import.meta.dirname, '..')
const SRC = join(ROOT, 'src')
const FOLDERS = readdirSync(SRC, { withFileTypes: true }).flatMap(entry => (entry.isDirectory() ? [entry.name] : []))

const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8')

/** Rows of the table under a heading: the text of their cells. */
function table(page: string, heading: string): string[][] {
  const rows = page.slice(page.indexOf(`\n${heading}\n`) + heading.length + 2).split('\n')
  const end = rows.findIndex(row => !row.startsWith('|'))
  return rows.slice(1, end).map(row => row.split('|').slice(1, -1))
}

/** Files and folders that a page names in code marks, apart from drawings, patterns and what is built. */
function namedIn(page: string): string[] {
  const text = page.replace(/^```.*?^```$/gms, '')
  const names = [...text.matchAll(/`([^` ]+)`/g)].map(([, name = '']) => name)
  return [...new Set(names)].filter(name => /\.(ts|md|sh|mjs)$|\/$/.test(name) && !/NAME|\*|^(dist|out)\//.test(name))
}

/** Names of a page that are no path from the folder of the page, from src or from the root. */
function missingIn(page: string, folder: string): string[] {
  const from = [folder, SRC, ROOT]
  return namedIn(page).filter(name => !from.some(at => existsSync(join(at, name))))
}

describe('DEVELOPERS.md', () => {
  const page = read('DEVELOPERS.md')

  test('every file and folder that it names exists', () => {
    expect(namedIn(page).length).toBeGreaterThan(40)
    expect(missingIn(page, ROOT)).toEqual([])
  })

  test('every file of the drawing exists', () => {
    const drawing = page.match(/^```\n(.*?)^```$/ms)?.[1] ?? ''
    const names = [...drawing.matchAll(/[\w/-]+\.ts/g)].map(([name]) => name)
    const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
    expect(names.length).toBeGreaterThan(8)
    expect(names.filter(name => !files.some(file => `/${file}`.endsWith(`/${name}`)))).toEqual([])
  })

  test('every link leads to a file', () => {
    const links = [...page.matchAll(/\]\(([^)]+)\)/g)].map(([, link = '']) => link)
    expect(links.length).toBeGreaterThan(FOLDERS.length)
    expect(links.filter(link => !existsSync(join(ROOT, link)))).toEqual([])
  })

  test('the layout names every folder of src with a link to its page, and no other', () => {
    const named = table(page, '| in `src/` | contains |').flatMap(([first = '']) =>
      [...first.matchAll(/\[`([\w-]+)\/`\]\(src\/([\w-]+)\/README\.md\)/g)].map(([, name, linked]) => [name, linked]),
    )
    expect(named.toSorted()).toEqual(FOLDERS.map(name => [name, name]).toSorted())
  })

  test('two screens: at most 130 lines of at most 120 characters', () => {
    const lines = page.trimEnd().split('\n')
    expect(lines.length).toBeLessThanOrEqual(130)
    expect(lines.filter(line => [...line].length > 120)).toEqual([])
  })
})

describe('pages of the folders', () => {
  test.each(FOLDERS)('%s: says where to start, and every file and folder that it names exists', folder => {
    const page = read(`src/${folder}/README.md`)
    expect(page).toContain('\n## Where to start\n')
    expect(namedIn(page).length).toBeGreaterThan(2)
    expect(missingIn(page, join(SRC, folder))).toEqual([])
  })

  test('a name that is not there is seen', () => {
    expect(missingIn('`cover.ts`, `no-such-file.ts`, `ledger/cover.ts`', join(SRC, 'ledger'))).toEqual([
      'no-such-file.ts',
    ])
    expect(missingIn('`cover.ts`', join(SRC, 'report'))).toEqual(['cover.ts'])
  })
})
