import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { type CsvRow, readCsv, streamCsv } from '../../src/input/csv.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-csv-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const TEXT = '\uFEFFmodel; age ;note\nm1;3.5;"two\nlines"\n\nm2;;=1+1\n'

describe('CSV with a header', () => {
  test('rows know the line they begin on; blank lines are skipped; formulas stay text', () => {
    expect(readCsv(TEXT, 'r.csv')).toEqual({
      columns: ['model', 'age', 'note'],
      rows: [
        { line: 2, cells: { model: 'm1', age: '3.5', note: 'two\nlines' } },
        { line: 5, cells: { model: 'm2', age: '', note: '=1+1' } },
      ],
    })
  })

  test('a file that vanishes between two looks at it is told as a file, not as a fault of the program', async () => {
    const path = join(folder, 'gone.csv')
    writeFileSync(path, TEXT)
    const first = streamCsv(path, 'sites.csv').next()
    rmSync(path)
    await expect(first).rejects.toThrow(InputError)
    await expect(first).rejects.toThrow('sites.csv\n  there is no such file; check the name')
  })

  test('a stream gives the same rows', async () => {
    const path = join(folder, 'rows.csv')
    writeFileSync(path, TEXT)
    const rows: CsvRow[] = []
    for await (const row of streamCsv(path)) rows.push(row)
    expect(rows).toEqual(readCsv(TEXT, path).rows)
  })

  test.each([
    ['', 'r.csv\n  the file is empty; its first line must name the columns'],
    ['a,b,a\n1,2,3\n', 'r.csv:1\n  two columns are named "a"; give each its own name'],
    ['a,,c\n', 'r.csv:1\n  column 2 has no name; give each column one'],
    ['a,__proto__\n', 'r.csv:1\n  a column may not be named "__proto__"'],
    ['a,b\n1,2\n1,2,3\n', 'r.csv:3\n  found 3 cells; the header has 2'],
    ['a,b\n"1,2\n', 'r.csv:2\n  a quotation mark is not closed'],
    ['a,b\n1"2,3\n', 'r.csv:2\n  this line cannot be read as CSV; look at its quotation marks'],
  ])('%j is refused', (text, message) => {
    expect(messageOf(text)).toBe(message)
  })

  test('a stream of a missing file says so', async () => {
    const rows = streamCsv(join(folder, 'none.csv'), 'none.csv')
    await expect(rows.next()).rejects.toThrow('none.csv\n  there is no such file; check the name')
  })
})

function messageOf(text: string): string {
  try {
    readCsv(text, 'r.csv')
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'no problem'
}
