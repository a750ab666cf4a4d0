import { createReadStream } from 'node:fs'
import { CsvError, type Options, parse as parseStream } from 'csv-parse'
import { parse } from 'csv-parse/sync'
import { InputError } from '../errors.ts'
import { asReadError, needFile } from './read-text.ts'

/** Largest CSV text read in one piece, in characters; larger files go through `streamCsv`. Ours. */
export const MAX_CSV_CHARACTERS = 200_000_000

/** Longest line, in characters; ours: an unclosed quote is found before it fills the memory. */
export const MAX_LINE_CHARACTERS = 100_000

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
    const records: unknown = parse(text, csvOptions(text.slice(0, MAX_LINE_CHARACTERS)))
    const rows = (records as readonly Raw[]).flatMap(record => reader.take(record) ?? [])
    return { columns: reader.columnsOrThrow(), rows }
  } catch (cause) {
    throw asInputError(file, cause)
  }
}

/**
 * Reads the rows of a CSV file one by one, so that memory does not grow with their number.
 *
 * @param path - the file
 * @param file - name for messages
 * @returns rows in order; the header is checked before the first
 * @throws InputError as `readCsv`, when the file cannot be read, and when it is a pipe or device
 */
export async function* streamCsv(path: string, file: string = path): AsyncGenerator<CsvRow> {
  needFile(path, file)
  const reader = new RowReader(file)
  try {
    const parser = parseStream(csvOptions(await firstLine(path)))
    const bytes = createReadStream(path)
    bytes.on('error', error => parser.destroy(error))
    parser.on('close', () => bytes.destroy())
    bytes.pipe(parser)
    for await (const record of parser) {
      const row = reader.take(record)
      if (row !== null) yield row
    }
    reader.columnsOrThrow()
  } catch (cause) {
    throw asInputError(file, cause)
  }
}

/** A record as csv-parse hands it on with `info`. */
interface Raw {
  readonly record: readonly string[]
  readonly info: { readonly lines: number }
}

function csvOptions(head: string): Options {
  return {
    bom: true,
    info: true,
    trim: true,
    skip_empty_lines: true,
    relax_column_count: true,
    max_record_size: MAX_LINE_CHARACTERS,
    delimiter: delimiterOf(head),
  }
}

/** The sign between columns: the one of comma, semicolon and tab that the header holds most often. */
function delimiterOf(head: string): string {
  const header = head.split(/\r?\n/, 1)[0] ?? ''
  const count = (sign: string) => header.split(sign).length
  return [',', ';', '\t'].reduce((best, sign) => (count(sign) > count(best) ? sign : best))
}

async function firstLine(path: string): Promise<string> {
  for await (const chunk of createReadStream(path, { encoding: 'utf8', end: MAX_LINE_CHARACTERS })) return String(chunk)
  return ''
}

/** Checks each record against the header. */
class RowReader {
  #columns: readonly string[] | null = null
  #line = 1

  constructor(readonly file: string) {}

  take({ record, info }: Raw): CsvRow | null {
    // `info.lines` is the line on which the record ends; a quoted cell may span several.
    const spanned = record.reduce((sum, cell) => sum + (cell.match(/\n/g)?.length ?? 0), 0)
    this.#line = info.lines - spanned
    if (this.#columns === null) {
      this.#columns = this.#header(record)
      return null
    }
    if (record.every(cell => cell === '')) return null
    if (record.length !== this.#columns.length)
      throw problem(this.file, this.#line, `found ${record.length} cells; the header has ${this.#columns.length}`)
    return {
      line: this.#line,
      // without a prototype: a column that is not there may be called `constructor` or `toString`
      cells: Object.assign(
        Object.create(null),
        Object.fromEntries(this.#columns.map((column, at) => [column, record[at] ?? ''])),
      ),
    }
  }

  columnsOrThrow(): readonly string[] {
    if (this.#columns === null)
      throw problem(this.file, null, 'the file is empty; its first line must name the columns')
    return this.#columns
  }

  #header(record: readonly string[]): readonly string[] {
    for (const [at, column] of record.entries()) {
      if (column === '') throw problem(this.file, this.#line, `column ${at + 1} has no name; give each column one`)
      if (column === '__proto__') throw problem(this.file, this.#line, 'a column may not be named "__proto__"')
      if (record.indexOf(column) !== at)
        throw problem(this.file, this.#line, `two columns are named "${column}"; give each its own name`)
    }
    return record
  }
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

/**
 * The fault of a line that is too long.
 *
 * @param line - line of the file, from 1
 */
export function lineTooLong(line: number): CsvError {
  const fault = new CsvError('CSV_MAX_RECORD_SIZE', 'line too long')
  fault.lines = line
  return fault
}

function csvFault(code: string): string {
  if (code === 'CSV_MAX_RECORD_SIZE')
    return `a line is longer than ${MAX_LINE_CHARACTERS} characters; is this a CSV file, and is a quotation mark not closed?`
  if (code === 'CSV_QUOTE_NOT_CLOSED') return 'a quotation mark is not closed'
  return 'this line cannot be read as CSV; look at its quotation marks'
}
