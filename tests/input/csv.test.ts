import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { type CsvPiece, readCsv, streamCsv } from '../../src/input/csv.ts'

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

  test('a file that vanishes between two reads is reported as such, not as a fault of the program', async () => {
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
    const { columns, rows } = readCsv(TEXT, path)
    const streamed: CsvPiece['rows'][number][] = []
    for await (const piece of streamCsv(path)) {
      expect(piece.columns).toEqual(columns)
      streamed.push(...piece.rows)
    }
    expect(streamed).toEqual(rows.map(({ line, cells }) => ({ line, cells: Object.values(cells) })))
  })

  test.each([
    ['UTF-16 with its mark', Buffer.from('\uFEFFid;age\nä;3\nb; 4 \n', 'utf16le')],
    ['lines that end in a carriage return', Buffer.from('id;age\rä;3\rb;4')],
    ['lines of both kinds', Buffer.from('id;age\r\nä;3\nb;4\r\n')],
    ['the same between quotation marks', Buffer.from('id;age\r\nä;"3"\n"b";4\r\n')],
  ])('a stream reads %s', async (_, bytes) => {
    expect(await rowsOf(bytes)).toEqual([
      { line: 2, cells: ['ä', '3'] },
      { line: 3, cells: ['b', '4'] },
    ])
  })

  test('quoted cells may span lines, also where a file is read in several pieces', async () => {
    const rows = Array.from({ length: 9000 }, (_, i) => (i % 50 === 0 ? `"n${i}\n""x"", y",1` : `n${i}, 2`))
    const read = await rowsOf(Buffer.from(`id,age\n${rows.join('\n')}\n`))
    expect(read).toHaveLength(9000)
    expect(read[8950]).toEqual({ line: 2 + 8950 + 179, cells: ['n8950\n"x", y', '1'] })
    expect(read[8999]).toEqual({ line: 2 + 8999 + 180, cells: ['n8999', '2'] })
  })

  test('a quotation mark that is not closed is found before the file fills the memory', async () => {
    const long = `a,b\n1,2\n"1,2\n${'3,4\n'.repeat(100_000)}`
    await expect(rowsOf(Buffer.from(long))).rejects.toThrow('is a quotation mark not closed?')
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

async function rowsOf(bytes: Uint8Array): Promise<CsvPiece['rows'][number][]> {
  const path = join(folder, 'rows.csv')
  writeFileSync(path, bytes)
  const rows: CsvPiece['rows'][number][] = []
  for await (const piece of streamCsv(path, 'rows.csv')) rows.push(...piece.rows)
  return rows
}

function messageOf(text: string): string {
  try {
    readCsv(text, 'r.csv')
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'no problem'
}
