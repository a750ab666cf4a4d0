import { createReadStream } from 'node:fs'
import { readCsv } from '../../input/csv.ts'
import { asReadError } from '../../input/read-text.ts'
import { byRank, type Rank } from './first-sites.ts'
import { SITE_HEADINGS, SITES_HEADER } from './sites-csv.ts'

/** A site as its line of sites.csv, and what ranks it. */
export interface SiteText extends Rank {
  readonly played: boolean
  /** The line, without its rank and its line feed. */
  readonly text: string
}

const BILL = SITE_HEADINGS.indexOf('Expected bill in the next 5 years')
const CHANCE = SITE_HEADINGS.indexOf('Chance of a failure in the next 5 years')
const MOST_CELLS = 1 + Math.max(BILL, CHANCE)

/**
 * What ranks a site, by its line.
 *
 * @param text - as `siteLines` writes it, without the line feed
 */
export function siteTextOf(text: string): SiteText {
  const first = text.split(',', MOST_CELLS)
  const [cells = []] = first.some(cell => cell.includes('"')) ? cellsOf([text]) : [first]
  const [id = '', played] = cells
  return { played: played === 'yes', bill: Number(cells[BILL] ?? 0), chance: Number(cells[CHANCE] ?? 0), id, text }
}

/** Which of two sites is the first line: those that were left out come last. */
export function byPlace(a: SiteText, b: SiteText): number {
  return a.played === b.played ? byRank(a, b) : a.played ? -1 : 1
}

/** Bytes read at a time. Ours: many files are read in turns, and lines that wait for their turn outlive young garbage. */
const CHUNK_BYTES = 16 * 1024

/**
 * The cells of some lines, in the order of `SITE_HEADINGS`.
 *
 * @param texts - lines
 */
export function cellsOf(texts: readonly string[]): readonly (readonly string[])[] {
  const { columns, rows } = readCsv(`${SITES_HEADER}${texts.join('\n')}\n`, 'sites.csv')
  return rows.map(({ cells }) => columns.map(column => cells[column] ?? ''))
}

/**
 * The lines of a file as they are, some at a time; memory does not grow with their number.
 *
 * @param path - written by this program
 * @throws InputError when it cannot be read
 */
export async function* linesOfSites(path: string): AsyncGenerator<readonly string[]> {
  const texts: AsyncIterable<string> = createReadStream(path, { encoding: 'utf8', highWaterMark: CHUNK_BYTES })
  let begun = ''
  try {
    for await (const text of texts) {
      const parts = (begun + text).split('\n')
      const last = parts.pop() ?? ''
      const lines: string[] = []
      begun = ''
      for (const part of parts) {
        const line = begun + part
        // a line feed between quotation marks is part of a name
        const isWhole = line.split('"').length % 2 === 1
        if (isWhole) lines.push(line)
        begun = isWhole ? '' : `${line}\n`
      }
      begun += last
      yield lines
    }
  } catch (cause) {
    throw asReadError(path, cause)
  }
}
