import { join } from 'node:path'
import { InputError } from '../errors.ts'
import { firstOf } from './findings/first-sites.ts'
import { factsOf } from './fleet-facts.ts'
import type { FirstSite } from './fleet-results.ts'
import type { LeftOutSite } from './left-out-site.ts'
import type { Part, PartHead } from './part-file.ts'
import type { ChunkResult } from './play/chunk.ts'
import { openChunkRunner } from './play/chunk-pool.ts'
import { shapeOf } from './play/fleet-frame.ts'
import { FleetSums } from './play/fleet-sums.ts'
import { type Census, takeCensus } from './sites/census.ts'
import type { FleetSource } from './sites/fleet-file.ts'
import { columnsOfTable, type SiteTicket, stampOfTable, streamSites } from './sites/site-stream.ts'
import { UnfinishedStore } from './unfinished-store.ts'

/** How a fleet, or a part of it, is to be played. */
export interface PartSettings {
  readonly seed: number
  readonly draws: number
  readonly threads: number | null
  /** Part, from 1, of how many; 1 of 1 is the whole fleet. */
  readonly part: number
  readonly parts: number
  /** Folder that holds what an interrupted run has done. */
  readonly workFolder: string
  readonly resume: boolean
  readonly version: string
  /** Command line that reproduces the results. */
  readonly command: string
  /** Sites of a chunk. */
  readonly chunkSites: number
  /** Seconds between two saves. */
  readonly saveEverySeconds: number
  /** Clock, seconds. */
  readonly now: () => number
  /** Throws once another run writes to the work folder. */
  readonly needFolder: () => void
}

/** Receives the share of the work done, [0, 1]. */
export type FleetProgress = (share: number) => void

/** A part that is played to its end. */
export interface PlayedPart extends Part {
  /** File with its lines of sites.csv, header first. */
  readonly sitesFile: string
  /** Deletes what was kept for a resumed run. */
  readonly forget: () => Promise<void>
}

/** Share of the work that the census counts as. Ours. */
const CENSUS_SHARE = 0.02
/** Reasons kept in fleet.json. */
const MOST_REASONS = 100

/**
 * Plays a part of a fleet, or all of it, chunk by chunk, and saves at intervals what is done (F1, F6).
 *
 * @param source - table or folder
 * @param settings - seed, draws, which part
 * @param progress - called at intervals
 * @throws InputError, UsageError when the fleet or the place for the results cannot be used
 */
export async function playPart(
  source: FleetSource,
  settings: PartSettings,
  progress: FleetProgress,
): Promise<PlayedPart> {
  const census = await takeCensus(source, settings.seed, settings.draws)
  progress(CENSUS_SHARE)
  const { frame } = census
  const from = Math.floor(((settings.part - 1) * frame.listed) / settings.parts)
  const to = Math.floor((settings.part * frame.listed) / settings.parts)
  const name = `part-${settings.part}-of-${settings.parts}`
  const store = new UnfinishedStore(
    join(settings.workFolder, `${name}.state`),
    join(settings.workFolder, `${name}.csv`),
  )
  const fresh = freshPart(source, census, settings)
  const part = await store.open(fresh, settings.resume)
  const run = new Run(part, store, settings)
  const runner = openChunkRunner(frame, settings.threads)
  try {
    const plan = await columnsOfTable(source)
    const sites = streamSites(source, plan, from + part.head.done, to)
    await inOrder(chunksOf(sites, settings.chunkSites), runner.lanes, runner.play, async (result, count) => {
      await run.take(result, count)
      progress(CENSUS_SHARE + ((1 - CENSUS_SHARE) * run.done) / Math.max(to - from, 1))
    })
  } finally {
    await runner.close()
  }
  if ((await stampOfTable(source)) !== census.stamp || run.done !== to - from) throw changed(source)
  await run.save()
  return { head: run.head, sums: part.sums, sitesFile: store.sitesFile, forget: () => store.forget() }
}

function freshPart(source: FleetSource, census: Census, settings: PartSettings): Part {
  const { frame } = census
  const shape = shapeOf(frame)
  return {
    head: {
      version: settings.version,
      seed: settings.seed,
      mark: frame.mark,
      part: settings.part,
      parts: settings.parts,
      done: 0,
      bytes: 0,
      linesHash: '',
      shape,
      facts: factsOf(source, census, settings.command),
      leftOut: [],
      firstSites: [],
    },
    sums: new FleetSums(shape),
  }
}

function changed(source: FleetSource): InputError {
  const file = source.form === 'table' ? source.sites : source.file
  const message = 'the sites were changed while they were played; play the fleet again'
  return new InputError([{ file, line: null, column: null, key: '', message }])
}

/** What is done so far. */
class Run {
  readonly #part: Part
  readonly #store: UnfinishedStore
  readonly #settings: PartSettings
  readonly #leftOut: LeftOutSite[]
  #firstSites: readonly FirstSite[]
  /** The first chunk is saved at once, so that a folder that cannot be written to is reported early. */
  #savedAt = -Infinity
  done: number
  #bytes: number

  constructor(part: Part, store: UnfinishedStore, settings: PartSettings) {
    this.#part = part
    this.#store = store
    this.#settings = settings
    this.#leftOut = [...part.head.leftOut]
    this.#firstSites = part.head.firstSites
    this.done = part.head.done
    this.#bytes = part.head.bytes
  }

  get head(): PartHead {
    const { linesHash } = this.#store
    const kept = { done: this.done, bytes: this.#bytes, linesHash, leftOut: this.#leftOut }
    return { ...this.#part.head, ...kept, firstSites: this.#firstSites }
  }

  async take(result: ChunkResult, sites: number): Promise<void> {
    this.#settings.needFolder()
    this.#part.sums.add(result.sums, result.singleVariance)
    this.#leftOut.push(...result.leftOut.slice(0, MOST_REASONS - this.#leftOut.length))
    this.#firstSites = firstOf([...this.#firstSites, ...result.firstSites])
    this.#bytes += await this.#store.append(result.lines)
    this.done += sites
    if (this.#settings.now() - this.#savedAt >= this.#settings.saveEverySeconds) await this.save()
  }

  async save(): Promise<void> {
    this.#settings.needFolder()
    await this.#store.save({ head: this.head, sums: this.#part.sums })
    this.#savedAt = this.#settings.now()
  }
}

async function* chunksOf(sites: AsyncIterable<SiteTicket>, size: number): AsyncGenerator<SiteTicket[]> {
  let chunk: SiteTicket[] = []
  for await (const site of sites) {
    chunk.push(site)
    if (chunk.length < size) continue
    yield chunk
    chunk = []
  }
  if (chunk.length > 0) yield chunk
}

/**
 * Plays chunks, some at once; results are taken in the order of the chunks. After a failure the others are not waited
 * for: where a thread has died they may never end, and closing the runner ends them.
 */
async function inOrder(
  chunks: AsyncIterable<SiteTicket[]>,
  lanes: number,
  play: (tickets: readonly SiteTicket[]) => Promise<ChunkResult>,
  take: (result: ChunkResult, sites: number) => Promise<void>,
): Promise<void> {
  const underWay: { readonly result: Promise<ChunkResult>; readonly sites: number }[] = []
  const takeFirst = async (): Promise<void> => {
    const first = underWay.shift()
    if (first !== undefined) await take(await first.result, first.sites)
  }
  for await (const chunk of chunks) {
    const result = play(chunk)
    // a chunk that fails while an earlier one is awaited is reported when its turn comes
    result.catch(() => {})
    underWay.push({ result, sites: chunk.length })
    if (underWay.length >= lanes) await takeFirst()
  }
  while (underWay.length > 0) await takeFirst()
}
