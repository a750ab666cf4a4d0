import { CsvError, parse } from 'csv-parse'
import { lineTooLong, MAX_LINE_CHARACTERS } from './csv.ts'

/** What reads a table line by line. */
export interface LineHandler {
  /** The separator, once it is known from the first line. */
  separator(separator: string): void
  line(line: number, fields: readonly string[]): void
}

/**
 * Reads a table of comma-, semicolon- or tab-separated values as it streams in.
 *
 * Lines without a quotation mark, which is nearly all of them in such files, are split at the separator; from
 * the first quotation mark on, csv-parse reads the rest. Measured on a million rows of six columns: 0.7 s against 2.7 s.
 *
 * @param chunks - the bytes, UTF-8, with or without byte-order mark
 * @param handler - called with each line that is not empty
 * @throws CsvError where quotation marks do not fit together or a line is too long, with the line of the table in `lines`
 */
export async function readLines(chunks: AsyncIterable<Uint8Array>, handler: LineHandler): Promise<void> {
  const decoder = new TextDecoder('utf-8')
  const iterator = chunks[Symbol.asyncIterator]()
  let rest = ''
  let line = 0
  let separator = ''
  const take = (text: string): void => {
    line++
    if (text.length > MAX_LINE_CHARACTERS) throw lineTooLong(line)
    const plain = text.endsWith('\r') ? text.slice(0, -1) : text
    if (plain === '') return
    if (separator === '') {
      separator = separatorOf(plain)
      handler.separator(separator)
    }
    handler.line(line, plain.split(separator))
  }
  for (;;) {
    const next = await iterator.next()
    const text = rest + (next.done === true ? decoder.decode() : decoder.decode(next.value, { stream: true }))
    const quote = text.indexOf('"')
    let from = 0
    for (let to = text.indexOf('\n'); to >= 0 && (quote < 0 || to < quote); to = text.indexOf('\n', from)) {
      take(text.slice(from, to))
      from = to + 1
    }
    rest = text.slice(from)
    if (quote >= 0) {
      try {
        await readQuoted(rest, line, separator, iterator, next.done === true, decoder, handler)
      } catch (cause) {
        if (cause instanceof CsvError && typeof cause.lines === 'number') cause.lines += line
        throw cause
      }
      return
    }
    if (rest.length > MAX_LINE_CHARACTERS) throw lineTooLong(line + 1)
    if (next.done === true) {
      if (rest !== '') take(rest)
      return
    }
  }
}

/** The rest of a table from a line with a quotation mark on. */
async function readQuoted(
  rest: string,
  linesBefore: number,
  known: string,
  iterator: AsyncIterator<Uint8Array>,
  ended: boolean,
  decoder: { decode(bytes?: Uint8Array, options?: { stream: boolean }): string },
  handler: LineHandler,
): Promise<void> {
  const separator = known === '' ? separatorOf(rest.split('\n', 1)[0] ?? '') : known
  if (known === '') handler.separator(separator)
  const parser = parse({
    delimiter: separator,
    relax_column_count: true,
    info: true,
    skip_empty_lines: true,
    max_record_size: MAX_LINE_CHARACTERS,
  })
  const reading = (async () => {
    let next = linesBefore + 1
    for await (const { record, info } of parser) {
      // A record ends on the line info.lines; it began after the one before it.
      handler.line(next, record)
      next = linesBefore + info.lines + 1
    }
  })()
  // Awaited at the end; until then a fault met while writing must not count as unhandled.
  reading.catch(() => {})
  parser.write(rest)
  if (!ended) {
    for (let chunk = await iterator.next(); chunk.done !== true; chunk = await iterator.next()) {
      const more = parser.write(decoder.decode(chunk.value, { stream: true }))
      // A parser that has failed never drains; its failure then ends the wait.
      if (!more) await Promise.race([new Promise<void>(resolve => parser.once('drain', () => resolve())), reading])
    }
  }
  parser.end(decoder.decode())
  await reading
}

/** The separator of a first line: the one of tab, semicolon and comma that is in it most. */
function separatorOf(text: string): string {
  const counts = [',', ';', '\t'].map(separator => ({ separator, n: text.split(separator).length }))
  return counts.reduce((best, next) => (next.n > best.n ? next : best)).separator
}
