import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { stringify } from 'csv-stringify/sync'
import { asUsageError } from '../../input/place.ts'
import { firstIndex } from '../../numerics/bisection.ts'
import { byPlace, cellsOf, linesOfSites, type SiteText, siteTextOf } from './site-text.ts'
import { SITE_HEADINGS } from './sites-csv.ts'

/** Sites sorted in memory at a time. Ours: some ten megabytes. */
const BATCH_SITES = 20_000
/** Lines written at a time. Ours. */
const LINES = 500

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
   * @throws InputError when a file cannot be read; UsageError when temporary files cannot be written
   */
  static async of(files: readonly string[], batchSites = BATCH_SITES): Promise<RankedSites> {
    const ranked = new RankedSites()
    try {
      let batch: SiteText[] = []
      for (const file of files) {
        let isHeader = true
        for await (const lines of linesOfSites(file))
          for (const line of lines) {
            if (!isHeader) batch.push(siteTextOf(line))
            isHeader = false
            if (batch.length < batchSites) continue
            ranked.#write(batch)
            batch = []
          }
      }
      if (batch.length > 0) ranked.#write(batch)
      return ranked
    } catch (cause) {
      ranked.close()
      throw cause
    }
  }

  /**
   * Cells of the first sites: the rank, then those of `SITE_HEADINGS`. Sites that were left out come last, without a rank.
   *
   * @param most - how many
   */
  async first(most: number): Promise<readonly (readonly string[])[]> {
    const ranks: string[] = []
    const texts: string[] = []
    for await (const { rank, text } of this.#inOrder()) {
      if (texts.length === most) break
      ranks.push(rank)
      texts.push(text)
    }
    return cellsOf(texts).map((cells, at) => [ranks[at] ?? '', ...cells])
  }

  /** sites.csv, piece by piece. */
  async *csv(): AsyncGenerator<Uint8Array> {
    let text = stringify([['Rank', ...SITE_HEADINGS]])
    let lines = 1
    for await (const site of this.#inOrder()) {
      text += `${site.rank},${site.text}\n`
      if (++lines < LINES) continue
      yield Buffer.from(text)
      text = ''
      lines = 0
    }
    yield Buffer.from(text)
  }

  /** Removes the temporary files. */
  close(): void {
    process.off('exit', this.#remove)
    this.#remove()
  }

  /** Every site with its rank, '' where it was left out. */
  async *#inOrder(): AsyncGenerator<{ readonly rank: string; readonly text: string }> {
    const heads: Head[] = []
    for (const file of this.#batches) await advance(heads, { lines: [], at: 0, more: linesOfSites(file) })
    let rank = 0
    for (let head = heads.shift(); head !== undefined; head = heads.shift()) {
      const { played, text } = head.site
      if (played) rank++
      yield { rank: played ? String(rank) : '', text }
      await advance(heads, head.batch)
    }
  }

  #write(batch: SiteText[]): void {
    const file = join(this.#folder, String(this.#batches.length))
    batch.sort(byPlace)
    try {
      writeFileSync(file, batch.map(({ text }) => `${text}\n`).join(''))
    } catch (cause) {
      throw asUsageError(this.#folder, cause)
    }
    this.#batches.push(file)
  }
}

/** A batch that is being read. */
interface Batch {
  lines: readonly string[]
  /** Place of the next of them. */
  at: number
  readonly more: AsyncGenerator<readonly string[]>
}

/** The first site of a batch that is not merged yet. */
interface Head {
  readonly site: SiteText
  readonly batch: Batch
}

/** Puts the next site of a batch among the first ones of the others. */
async function advance(heads: Head[], batch: Batch): Promise<void> {
  while (batch.at === batch.lines.length) {
    const next = await batch.more.next()
    if (next.done === true) return
    batch.lines = next.value
    batch.at = 0
  }
  const site = siteTextOf(batch.lines[batch.at++] ?? '')
  const place = firstIndex(heads.length, at => {
    const other = heads[at]
    // equal lines keep the order of their batches: the present one comes first
    return other === undefined || byPlace(other.site, site) >= 0
  })
  heads.splice(place, 0, { site, batch })
}
