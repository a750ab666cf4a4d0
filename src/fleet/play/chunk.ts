import { NonFiniteError } from '../../errors.ts'
import { power } from '../../numerics/power.ts'
import { ReserveFactors } from '../../simulation/sums/reserve-need.ts'
import { firstOf } from '../findings/first-sites.ts'
import { firstSite, leftOutCells, siteCells, siteLines } from '../findings/sites-csv.ts'
import type { FirstSite } from '../fleet-results.ts'
import { disagreement } from '../sites/census.ts'
import { isRead, type LeftOut, type ReadSite, SiteReader } from '../sites/site-reader.ts'
import type { SiteTicket } from '../sites/site-stream.ts'
import { ClassPlay, type Workshop } from './class-play.ts'
import { FleetChance } from './fleet-chance.ts'
import { type FleetFrame, shapeOf } from './fleet-frame.ts'
import { FleetSets } from './fleet-sets.ts'
import { type ChunkSums, COLUMNS, emptyChunk } from './fleet-sums.ts'
import { SitePlayer } from './play-sites.ts'
import type { SiteClass } from './site-class.ts'
import { BLOCK_SITES, SiteRecorder } from './site-recorder.ts'

/** Results of a chunk of sites. */
export interface ChunkResult {
  readonly sums: ChunkSums
  readonly singleVariance: readonly bigint[]
  /** Lines of sites.csv, in the order of the sites. */
  readonly lines: string
  /** The roofs of the chunk that come first. */
  readonly firstSites: readonly FirstSite[]
  /** The first sites that were left out, with reasons. */
  readonly leftOut: readonly { readonly id: string; readonly line: number | null; readonly reason: string }[]
}

/** Reasons that a chunk passes on; all of them are in sites.csv. */
const MOST_REASONS = 100
/** Entries of a chunk stay under this, so that its sums are exact. */
const MOST = power(2, 52)

/** Plays chunks of sites; keeps what classes of sites share. */
export class ChunkPlayer {
  readonly #frame: FleetFrame
  readonly #reader: SiteReader
  readonly #workshop: Workshop
  readonly #plays = new WeakMap<SiteClass, SitePlayer>()
  /** Why a class does not go with the fleet; null: it does. */
  readonly #reasons = new WeakMap<SiteClass, string | null>()
  readonly #reserve: ReserveFactors
  readonly #repeated: ReadonlySet<number>

  /** @param frame - of the fleet */
  constructor(frame: FleetFrame) {
    const sets = new FleetSets(frame.seed, frame.draws)
    const oldest = new Map(frame.models.map(model => [model.name, model.oldestAgeYears]))
    this.#frame = frame
    this.#reader = new SiteReader(frame.form)
    this.#workshop = {
      seed: frame.seed,
      sets,
      chance: new FleetChance(frame.seed, sets, frame.models),
      oldestAge: model => oldest.get(model) ?? 0,
      lives: new Map(),
    }
    const { opening } = frame.reserve
    this.#reserve = new ReserveFactors(
      { ...frame.reserve, opening: opening / Math.max(frame.sites, 1) },
      frame.horizonYears,
    )
    this.#repeated = new Set(frame.repeated)
  }

  /**
   * Plays a chunk.
   *
   * @param tickets - sites in order
   */
  play(tickets: readonly SiteTicket[]): ChunkResult {
    const frame = this.#frame
    const shape = shapeOf(frame)
    const sums = emptyChunk(shape)
    const singleVariance = new Array<bigint>(1 + shape.groups).fill(0n)
    const recorder = new SiteRecorder(sums, frame.seed, frame.draws, frame.horizonYears, frame.reserve.confidence)
    const lines = new Array<readonly string[]>(tickets.length).fill([])
    const candidates: FirstSite[] = []
    const leftOut: ChunkResult['leftOut'][number][] = []
    const byClass = new Map<SiteClass, { readonly site: ReadSite; readonly place: number }[]>()
    tickets.forEach((ticket, place) => {
      const site = this.#read(ticket)
      if (isRead(site)) {
        const others = byClass.get(site.siteClass) ?? []
        others.push({ site, place })
        byClass.set(site.siteClass, others)
        return
      }
      lines[place] = leftOutCells(site)
      sums.leftOut[0] = (sums.leftOut[0] ?? 0) + 1
      if (leftOut.length < MOST_REASONS) leftOut.push({ id: ticket.id, line: ticket.line, reason: site.reason })
    })
    for (const members of byClass.values()) {
      // sites of one age share hazards; sums are whole numbers, so no order changes them
      members.sort((a, b) => (a.site.ages[0] ?? 0) - (b.site.ages[0] ?? 0) || a.place - b.place)
      for (let from = 0; from < members.length; from += BLOCK_SITES) {
        const block = members.slice(from, from + BLOCK_SITES)
        this.#playBlock(
          block.map(({ site }) => site),
          recorder,
        )
        block.forEach(({ site, place }, slot) => {
          const figures = recorder.end(slot)
          for (const scope of [0, ...this.#groupsOf(site).map(group => group + 1)])
            singleVariance[scope] = (singleVariance[scope] ?? 0n) + figures.variance
          const first = firstSite(site, figures)
          lines[place] = siteCells(site, first, figures)
          candidates.push(first)
        })
      }
    }
    for (const column of COLUMNS)
      for (const value of sums[column])
        if (!(Math.abs(value) < MOST)) throw new NonFiniteError('F4', `a sum of ${column} over ${tickets.length} sites`)
    return { sums, singleVariance, lines: siteLines(lines), firstSites: firstOf(candidates), leftOut }
  }

  #playBlock(sites: readonly ReadSite[], recorder: SiteRecorder): void {
    const [first] = sites
    if (first === undefined) return
    const { siteClass } = first
    const frame = this.#frame
    sites.forEach((site, slot) => {
      recorder.begin(slot, site.ticket.id, {
        model: placeOf(frame.namedModels, siteClass.leadModel),
        provider: placeOf(frame.namedProviders, siteClass.option.warrantyProvider.name),
        groups: this.#groupsOf(site),
      })
    })
    this.#playerOf(siteClass).play(sites, recorder)
  }

  /** Groups of the sample that a site belongs to. */
  #groupsOf({ ticket }: ReadSite): readonly number[] {
    return this.#frame.sample.get(ticket.id) ?? []
  }

  #read(ticket: SiteTicket): ReadSite | LeftOut {
    if (this.#repeated.has(ticket.index)) return { ticket, reason: `the id "${ticket.id}" is in an earlier line too` }
    const site = this.#reader.read(ticket)
    if (!isRead(site)) return site
    const { siteClass } = site
    const known = this.#reasons.get(siteClass)
    const reason = known === undefined ? disagreement(siteClass, this.#frame) : known
    this.#reasons.set(siteClass, reason)
    return reason === null ? site : { ticket, reason }
  }

  #playerOf(siteClass: SiteClass): SitePlayer {
    const known = this.#plays.get(siteClass)
    if (known !== undefined) return known
    const made = new SitePlayer(new ClassPlay(siteClass, this.#workshop), this.#frame.seed, this.#reserve)
    this.#plays.set(siteClass, made)
    return made
  }
}

/** Place of a name in the list; after its end where it is not named. */
function placeOf(names: readonly string[], name: string): number {
  const place = names.indexOf(name)
  return place < 0 ? names.length : place
}
