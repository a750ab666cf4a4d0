import { createReadStream, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { stringify } from 'csv-stringify/sync'
import { streamCsv } from '../../input/csv.ts'
import { asUsageError } from '../../input/place.ts'
import { firstIndex } from '../../numerics/bisection.ts'
import { byRank, type Rank } from './first-sites.ts'
import { SITE_HEADINGS } from './sites-csv.ts'

/** Sites sorted in memory at a time. Ours: some ten megabytes. */
const BATCH_SITES = 20_000

/** A line of a site with its rank. */
interface RankedLine extends Rank {
  readonly played: boolean
  readonly cells: readonly string[]
}

/** The sites of a fleet in the order in which they need attention; memory does not grow with their number (F1). */
export class RankedSites {
  readonly #folder: string
  readonly #batches: string[] = []
  readonly #remove = (): void => rmSync(this.#folder, { recursive: true, force: true })

  private constructor() {
    this.#folder = mkdtempSync(join(tmpdir(), 'lifetally-sites-'))
    process.on('exit', this.#remove)
  }

  /**
   * Sorts the lines of sites, batch by batch, on disk.
   *
   * @param files - lines as they were played, each file with its header
   * @param batchSites - sites sorted at a time
   * @throws InputError when a file cannot be read; UsageError when there is no room for temporary files
   */
  static async of(files: readonly string[], batchSites = BATCH_SITES): Promise<RankedSites> {
    const ranked = new RankedSites()
    try {
      let batch: RankedLine[] = []
      for (const file of files)
        for await (const { cells } of streamCsv(file)) {
          batch.push(lineOf(SITE_HEADINGS.map(heading => cells[heading] ?? '')))
          if (batch.length < batchSites) continue
          ranked.#write(batch)
          batch = []
        }
      if (batch.length > 0) ranked.#write(batch)
      return ranked
    } catch (cause) {
      ranked.close()
      throw cause
    }
  }

  /** Cells of each site: its rank, then those of `SITE_HEADINGS`. Sites that were left out come last, without a rank. */
  async *rows(): AsyncGenerator<readonly string[]> {
    const readers = this.#batches.map(file => linesOf(file))
    const heads: { line: RankedLine; readonly reader: AsyncGenerator<RankedLine> }[] = []
    for (const reader of readers) await advance(heads, reader)
    let rank = 0
    for (let head = heads.shift(); head !== undefined; head = heads.shift()) {
      const { line, reader } = head
      if (line.played) rank++
      yield [line.played ? String(rank) : '', ...line.cells]
      await advance(heads, reader)
    }
  }

  /** sites.csv, piece by piece. */
  async *csv(): AsyncGenerator<Uint8Array> {
    yield Buffer.from(stringify([['Rank', ...SITE_HEADINGS]]))
    let rows: (readonly string[])[] = []
    for await (const row of this.rows()) {
      rows.push(row)
      if (rows.length < 500) continue
      yield Buffer.from(stringify(rows))
      rows = []
    }
    yield Buffer.from(stringify(rows))
  }

  /** Removes the temporary files. */
  close(): void {
    process.off('exit', this.#remove)
    this.#remove()
  }

  #write(batch: RankedLine[]): void {
    const file = join(this.#folder, String(this.#batches.length))
    batch.sort(inOrder)
    try {
      writeFileSync(file, batch.map(line => `${JSON.stringify(line)}\n`).join(''))
    } catch (cause) {
      throw asUsageError(this.#folder, cause)
    }
    this.#batches.push(file)
  }
}

const BILL = SITE_HEADINGS.indexOf('Expected bill in the next 5 years')
const CHANCE = SITE_HEADINGS.indexOf('Chance of a failure in the next 5 years')

function lineOf(cells: readonly string[]): RankedLine {
  const [id = '', played] = cells
  return { played: played === 'yes', bill: Number(cells[BILL] ?? 0), chance: Number(cells[CHANCE] ?? 0), id, cells }
}

function inOrder(a: RankedLine, b: RankedLine): number {
  return a.played === b.played ? byRank(a, b) : a.played ? -1 : 1
}

/** Puts the next line of a batch among the first lines of the others. */
async function advance(
  heads: { line: RankedLine; readonly reader: AsyncGenerator<RankedLine> }[],
  reader: AsyncGenerator<RankedLine>,
): Promise<void> {
  const next = await reader.next()
  if (next.done === true) return
  const place = firstIndex(heads.length, at => {
    const other = heads[at]
    // equal lines keep the order of their batches: the present one comes first
    return other === undefined || inOrder(other.line, next.value) >= 0
  })
  heads.splice(place, 0, { line: next.value, reader })
}

async function* linesOf(file: string): AsyncGenerator<RankedLine> {
  for await (const line of createInterface({ input: createReadStream(file), crlfDelay: Infinity }))
    yield JSON.parse(line) as RankedLine // written above
}
