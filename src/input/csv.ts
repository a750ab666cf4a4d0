import { createReadStream } from 'node:fs'
import { CsvError } from 'csv-parse/sync'
import { InputError } from '../errors.ts'
import { MAX_LINE_CHARACTERS, streamLines, type TableLine, TableSplitter } from './lines.ts'
import { asReadError, needFile } from './read-text.ts'

/** Largest CSV text read in one piece, in characters; larger files need `streamCsv`. Ours. */
export const MAX_CSV_CHARACTERS = 200_000_000

/** One row of a CSV file. */
export interface CsvRow {
  /** Line of the file on which the row begins, from 1. */
  readonly line: number
  /** Cells by column, trimmed; '' where empty. */
  readonly cells: Readonly<Record<string, string>>
}

/** A CSV file with a header. */
export interface CsvTable {
  /** Columns in the order of the file. */
  readonly columns: readonly string[]
  readonly rows: readonly CsvRow[]
}

/**
 * Reads CSV text with a header row. Comma, semicolon or tab as the header has it; quotes as in RFC 4180.
 *
 * @param text - the whole file
 * @param file - name for messages
 * @returns columns and rows; lines without any content are skipped
 * @throws InputError without a header, with two equal or empty column names, with a row of another length, or too large
 */
export function readCsv(text: string, file: string): CsvTable {
  if (text.length > MAX_CSV_CHARACTERS)
    throw problem(file, null, `the file has ${text.length} characters; the limit is ${MAX_CSV_CHARACTERS}`)
  const reader = new RowReader(file)
  try {
    const splitter = new TableSplitter()
    const rows = reader.take(splitter.end(text.replace(/^\uFEFF/, '')))
    const columns = reader.columnsOrThrow()
    return { columns, rows: rows.map(({ line, cells }) => ({ line, cells: byColumn(columns, cells) })) }
  } catch (cause) {
    throw asInputError(file, cause)
  }
}

/** Some rows of a CSV file, with cells in the order of the columns. */
export interface CsvPiece {
  readonly columns: readonly string[]
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[]
}

/**
 * Reads the rows of a CSV file some at a time, so that memory does not grow with their number.
 *
 * @param path - the file
 * @param file - name for messages
 * @returns rows in order, at least one piece; the header is checked before the first
 * @throws InputError as `readCsv`, when the file cannot be read, and when it is a pipe or device
 */
export async function* streamCsv(path: string, file: string = path): AsyncGenerator<CsvPiece> {
  needFile(path, file)
  const reader = new RowReader(file)
  try {
    const bytes: AsyncIterable<Uint8Array> = createReadStream(path)
    for await (const { lines } of streamLines(bytes)) {
      if (lines.length === 0) continue
      const rows = reader.take(lines)
      yield { columns: reader.columnsOrThrow(), rows }
    }
    reader.columnsOrThrow()
  } catch (cause) {
    throw asInputError(file, cause)
  }
}

/** Checks each row against the header. */
class RowReader {
  #columns: readonly string[] | null = null

  constructor(readonly file: string) {}

  /** The rows of some lines; the first line of all is the header. */
  take(lines: readonly TableLine[]): CsvPiece['rows'] {
    const rows: CsvPiece['rows'][number][] = []
    for (const { line, fields } of lines) {
      if (this.#columns === null) {
        this.#columns = this.#header(line, fields)
        continue
      }
      if (fields.every(cell => cell === '')) continue
      if (fields.length !== this.#columns.length)
        throw problem(this.file, line, `found ${fields.length} cells; the header has ${this.#columns.length}`)
      rows.push({ line, cells: fields })
    }
    return rows
  }

  columnsOrThrow(): readonly string[] {
    if (this.#columns === null)
      throw problem(this.file, null, 'the file is empty; its first line must name the columns')
    return this.#columns
  }

  #header(line: number, fields: readonly string[]): readonly string[] {
    for (const [at, column] of fields.entries()) {
      if (column === '') throw problem(this.file, line, `column ${at + 1} has no name; give each column one`)
      if (column === '__proto__') throw problem(this.file, line, 'a column may not be named "__proto__"')
      if (fields.indexOf(column) !== at)
        throw problem(this.file, line, `two columns are named "${column}"; give each its own name`)
    }
    return fields
  }
}

/** Without a prototype: a column that is not there may be called `constructor` or `toString`. */
function byColumn(columns: readonly string[], cells: readonly string[]): CsvRow['cells'] {
  const named: Record<string, string> = Object.create(null)
  columns.forEach((column, at) => {
    named[column] = cells[at] ?? ''
  })
  return named
}

function problem(file: string, line: number | null, message: string): InputError {
  return new InputError([{ file, line, column: null, key: '', message }])
}

/**
 * A fault of the CSV reader or of the file system in words, with its line where it has one.
 *
 * @param file - name for messages
 * @param cause - whatever was thrown
 * @returns an InputError for faults of the file; the cause itself for anything else
 */
export function asInputError(file: string, cause: unknown): unknown {
  if (cause instanceof InputError) return cause
  if (!(cause instanceof Error)) return cause
  if (cause instanceof CsvError) {
    const line = 'lines' in cause && typeof cause.lines === 'number' ? cause.lines : null
    return new InputError([{ file, line, column: null, key: '', message: csvFault(String(cause.code)) }], { cause })
  }
  return 'syscall' in cause ? asReadError(file, cause) : cause
}

function csvFault(code: string): string {
  if (code === 'CSV_MAX_RECORD_SIZE')
    return `a line is longer than ${MAX_LINE_CHARACTERS} characters; is this a CSV file, and is a quotation mark not closed?`
  if (code === 'CSV_QUOTE_NOT_CLOSED') return 'a quotation mark is not closed'
  return 'this line cannot be read as CSV; look at its quotation marks'
}
