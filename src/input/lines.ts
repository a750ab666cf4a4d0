import { CsvError, parse } from 'csv-parse/sync'

/** Longest line, in characters; ours: an unclosed quote is found before it fills the memory. */
export const MAX_LINE_CHARACTERS = 100_000

/** A line of a table that is not blank, or the several lines that a quoted cell spans. */
export interface TableLine {
  /** Line of the file on which it begins, from 1. */
  readonly line: number
  /** Cells, trimmed; a quoted one as it is between its quotation marks. */
  readonly fields: readonly string[]
}

/** Called for each line of a table. */
export interface LineHandler {
  /** The separator, once it is known from the first line. */
  separator(separator: string): void
  line(line: number, fields: readonly string[]): void
}

/**
 * Reads a table of comma-, semicolon- or tab-separated values as it streams in.
 *
 * @param chunks - the bytes, UTF-8, with or without byte-order mark, or UTF-16 with one
 * @param handler - called with each line that is not blank
 * @throws CsvError where quotation marks do not fit together or a line is too long, with the line of the table in `lines`
 */
export async function readLines(chunks: AsyncIterable<Uint8Array>, handler: LineHandler): Promise<void> {
  let known = ''
  for await (const { separator, lines } of streamLines(chunks)) {
    if (known !== separator) handler.separator(separator)
    known = separator
    for (const { line, fields } of lines) handler.line(line, fields)
  }
}

/**
 * The same lines, some at a time.
 *
 * @param chunks - as for `readLines`
 * @throws CsvError as `readLines`
 */
export async function* streamLines(
  chunks: AsyncIterable<Uint8Array>,
): AsyncGenerator<{ readonly separator: string; readonly lines: readonly TableLine[] }> {
  const splitter = new TableSplitter()
  let decoder: InstanceType<typeof TextDecoder> | null = null
  for await (const chunk of chunks) {
    decoder ??= new TextDecoder(chunk[0] === 0xff && chunk[1] === 0xfe ? 'utf-16le' : 'utf-8')
    yield { lines: splitter.take(decoder.decode(chunk, { stream: true })), separator: splitter.separator }
  }
  yield { lines: splitter.end(decoder?.decode()), separator: splitter.separator }
}

/**
 * Splits a table into lines, piece by piece.
 *
 * Pieces without a quotation mark, which are nearly all, are split at the separator; csv-parse reads the others.
 * Measured on a million rows of six columns: 0.7 s against 2.7 s.
 */
export class TableSplitter {
  #rest = ''
  /** Line on which the rest begins. */
  #line = 1
  /** End of a line: a line feed, also after a carriage return; a carriage return where there is no line feed. */
  #end = ''
  /** The one of comma, semicolon and tab that occurs most often in the first line; '' before it is known. */
  separator = ''

  /**
   * The complete lines of the text so far.
   *
   * @param text - next piece
   * @throws CsvError as `readLines`
   */
  take(text: string): TableLine[] {
    const all = this.#rest + text
    if (this.#end === '') this.#end = all.includes('\n') ? '\n' : /\r./.test(all) ? '\r' : ''
    const length = this.#end === '' ? 0 : wholeLines(all, this.#end)
    this.#rest = all.slice(length)
    const lines = this.#split(all.slice(0, length))
    if (this.#rest.length <= MAX_LINE_CHARACTERS) return lines
    // an unclosed quotation mark is the more useful message
    this.#split(this.#rest)
    throw lineTooLong(this.#line)
  }

  /**
   * The last lines.
   *
   * @param text - last piece
   * @throws CsvError as `readLines`
   */
  end(text = ''): TableLine[] {
    return [...this.take(text), ...this.#split(this.#rest)]
  }

  #split(text: string): TableLine[] {
    if (text === '') return []
    const texts = text.split(this.#end === '' ? '\n' : this.#end)
    if (this.separator === '') this.separator = separatorOf(texts.find(line => !isBlank(line)) ?? '')
    const lines = text.includes('"') ? this.#parse(text) : this.#splitPlain(texts)
    this.#line += texts.length - 1
    return lines
  }

  #splitPlain(texts: readonly string[]): TableLine[] {
    const lines: TableLine[] = []
    texts.forEach((text, i) => {
      if (text.length > MAX_LINE_CHARACTERS) throw lineTooLong(this.#line + i)
      if (isBlank(text)) return
      lines.push({ line: this.#line + i, fields: text.split(this.separator).map(field => field.trim()) })
    })
    return lines
  }

  #parse(text: string): TableLine[] {
    try {
      // with `info` each record comes with the line on which it ends
      const records = parse(text, {
        delimiter: this.separator,
        record_delimiter: this.#end === '\r' ? '\r' : ['\r\n', '\n'],
        info: true,
        trim: true,
        skip_empty_lines: true,
        relax_column_count: true,
        max_record_size: MAX_LINE_CHARACTERS,
      }) as unknown as readonly { readonly record: readonly string[]; readonly info: { readonly lines: number } }[]
      return records.map(({ record, info }) => {
        const spanned = record.reduce((sum, cell) => sum + cell.split('\n').length - 1, 0)
        return { line: this.#line + info.lines - 1 - spanned, fields: record }
      })
    } catch (cause) {
      if (cause instanceof CsvError && typeof cause.lines === 'number') cause.lines += this.#line - 1
      throw cause
    }
  }
}

/** Length of the complete lines of a text: a line end between quotation marks is part of a cell. */
function wholeLines(text: string, end: string): number {
  let isQuoted = text.split('"').length % 2 === 0
  let before = text.length
  for (;;) {
    const at = text.lastIndexOf(end, before - 1)
    if (at < 0 || before === 0) return 0
    if (text.slice(at, before).split('"').length % 2 === 0) isQuoted = !isQuoted
    if (!isQuoted) return at + end.length
    before = at
  }
}

function isBlank(text: string): boolean {
  return text.trim() === ''
}

function separatorOf(line: string): string {
  const count = (sign: string): number => line.split(sign).length
  return [',', ';', '\t'].reduce((best, sign) => (count(sign) > count(best) ? sign : best))
}

function lineTooLong(line: number): CsvError {
  const fault = new CsvError('CSV_MAX_RECORD_SIZE', 'line too long')
  fault.lines = line
  return fault
}
