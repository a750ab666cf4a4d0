import { laterUniform } from '../../history/chance.ts'
import { History } from '../../history/history.ts'
import { playLanes } from '../../history/play.ts'
import { PLANNED, type Rows } from '../../history/rows.ts'
import { decideClaims } from '../../ledger/claims.ts'
import type { EnergyTables } from '../../ledger/outages/energy-tables.ts'
import { Priced } from '../../ledger/price-lifetimes.ts'
import { payRepairs } from '../../ledger/repairs.ts'
import { cumulativeHazard } from '../../numerics/lives/competing-risks.ts'
import { type StreamKey, streamKey } from '../../numerics/random/streams.ts'
import type { OptionSet } from '../../simulation/option-set.ts'
import { effectOf, type FailureEffect } from '../../simulation/sums/failure-effects.ts'
import type { ReserveFactors } from '../../simulation/sums/reserve-need.ts'
import type { ReadSite } from '../sites/site-reader.ts'
import type { ClassPlay } from './class-play.ts'
import { hundredths, wholeHalfEven } from './hundredths.ts'
import type { SiteRecorder } from './site-recorder.ts'

/**
 * Streams of the units of a site: they depend on the seed and the site's id alone (F2).
 *
 * @param seed - of the run
 * @param id - of the site
 * @param place - of the population in the option
 */
function siteKey(seed: number, id: string, place: number): StreamKey {
  return streamKey(seed, JSON.stringify(['site', id, 'component', place]))
}

/** Plays the sites of one class with the kernel: the lifetimes side by side are those of the sites in one draw. */
export class SitePlayer {
  readonly #play: ClassPlay
  readonly #seed: number
  readonly #reserve: ReserveFactors
  readonly #tables: EnergyTables | null
  readonly #history = new History()
  readonly #priced: Priced
  /** Cash of one site and draw by year, money; only years in which something is paid are set. */
  readonly #cash: Float64Array

  /**
   * @param play - the class
   * @param seed - of the run
   * @param reserve - factors of the reserve of one site
   */
  constructor(play: ClassPlay, seed: number, reserve: ReserveFactors) {
    const [first] = play.sets
    const { horizonYears } = play.siteClass.scenario
    this.#play = play
    this.#seed = seed
    this.#reserve = reserve
    // the energy lost is read from them, not its value: the same in every draw
    this.#tables = first === undefined ? null : play.plan.tablesFor(first.terms)
    this.#priced = new Priced(horizonYears)
    this.#cash = new Float64Array(horizonYears)
  }

  /**
   * Plays every draw of some sites, draw after draw, so that what all of them share in a draw is read once.
   *
   * @param sites - of the class, at most BLOCK_SITES; those of one age one after another
   * @param recorder - begun for each, slots in their order
   */
  play(sites: readonly ReadSite[], recorder: SiteRecorder): void {
    this.#begin(sites)
    const laterKeys = this.#laterKeys(sites)
    const effects = this.#play.siteClass.option.populations.map(({ kind }) => effectOf(kind))
    if (laterKeys.length > 0) recorder.mayBuyLater(sites.length)
    this.#play.sets.forEach((set, draw) => {
      this.#playDraw(sites, set, draw)
      buyLater(laterKeys, set, draw, this.#cash.length, recorder)
      const visited = new Uint8Array(this.#history.nVisits)
      this.#history.rows.forEach((rows, place) => {
        recordFailures(rows, draw, effects[place] ?? 'stopEnergy', recorder)
        if (set.parameters.units[place]?.needsVisit) recordVisits(rows, draw, visited, this.#cash.length, recorder)
      })
      for (let slot = 0; slot < sites.length; slot++) {
        this.#enter(slot, draw, set.terms.yearlyCost, sites[slot]?.energyFactor ?? 1, recorder)
      }
    })
  }

  /** Streams and ages of the units of every site: the same in every draw. */
  #begin(sites: readonly ReadSite[]): void {
    const history = this.#history
    const { option, scenario } = this.#play.siteClass
    history.begin(sites.length, option.populations.length, scenario.models.length)
    sites.forEach((site, lane) => {
      history.starts.forEach((starts, place) => {
        const key = siteKey(this.#seed, site.ticket.id, place)
        starts.keyHigh[lane] = key.high
        starts.keyLow[lane] = key.low
        starts.ageYears[lane] = site.ages[place] ?? 0
      })
    })
  }

  /** Streams of what each site may buy later, by purchase: one uniform a site and name (C8). */
  #laterKeys(sites: readonly ReadSite[]): readonly (readonly StreamKey[])[] {
    return this.#play.siteClass.option.later.map(({ name }) =>
      sites.map(({ ticket }) => streamKey(this.#seed, JSON.stringify(['site', ticket.id, 'later', name]))),
    )
  }

  #playDraw(sites: readonly ReadSite[], set: OptionSet, draw: number): void {
    const history = this.#history
    const play = this.#play
    const n = sites.length
    history.begin(n, history.rows.length, history.struck.length)
    history.draw.fill(draw, 0, n)
    play.modelDraws.forEach((drawn, model) => {
      if (drawn === undefined) return
      history.struck[model]?.fill(drawn.struck[draw] ?? 0, 0, n)
      history.endOfProduction[model]?.fill(drawn.endOfProduction[draw] ?? Infinity, 0, n)
    })
    for (const unit of set.parameters.units) {
      const starts = history.starts[unit.place]
      if (starts === undefined) continue
      const { ageYears, hazardAtStart, hazardAtHorizon } = starts
      for (let lane = 0; lane < n; lane++) {
        const age = ageYears[lane] as number // begun
        const same = lane > 0 && age === ageYears[lane - 1]
        hazardAtStart[lane] = same ? (hazardAtStart[lane - 1] as number) : cumulativeHazard(unit.modes, age)
        hazardAtHorizon[lane] = same
          ? (hazardAtHorizon[lane - 1] as number)
          : cumulativeHazard(unit.modes, age + set.parameters.horizonYears)
      }
    }
    playLanes(set.parameters, history)
    history.partsExits.share(n, play.partsExits, draw)
    history.labourExits.share(n, play.labourExits, draw)
    const priced = this.#priced
    priced.begin(history)
    decideClaims(history, set.terms, priced.claims)
    payRepairs(history, set.terms, priced.claims, priced.accounts, null)
    if (this.#tables !== null) {
      priced.outages.lose(history, set.terms, this.#tables, priced.claims, priced.accounts)
    }
  }

  /** Enters a site's draw: cash of every year in whole hundredths (F4). */
  #enter(slot: number, draw: number, yearlyCost: number, energyFactor: number, recorder: SiteRecorder): void {
    const { cash: paid, paidYears, years, lostKwh } = this.#priced.accounts
    const cash = this.#cash
    let need = 0
    const low = paidYears[2 * slot] as number // every lane has its entries
    const high = paidYears[2 * slot + 1] as number
    let total = 0
    if (yearlyCost !== 0) {
      for (let year = 0; year < years; year++) {
        const repairs = ((year < 32 ? low : high) >>> (year & 31)) & 1 ? (paid[slot * years + year] as number) : 0
        const cents = hundredths(repairs + yearlyCost)
        cash[year] = cents / 100
        total += cents
        if (cents !== 0) recorder.pay(slot, draw, year, cents)
      }
      if (total !== 0) need = this.#reserve.need(cash)
    } else {
      for (let word = 0; word < 2; word++) {
        for (let bits = word === 0 ? low : high; bits !== 0; bits &= bits - 1) {
          const year = 32 * word + 31 - Math.clz32(bits & -bits)
          const cents = hundredths(paid[slot * years + year] as number)
          cash[year] = cents / 100
          total += cents
          if (cents !== 0) recorder.pay(slot, draw, year, cents)
        }
      }
      if (total !== 0) need = this.#reserve.needBeside(0, cash, 0, low, high)
    }
    recorder.endDraw(slot, draw, total, need, wholeHalfEven((lostKwh[slot] as number) * energyFactor * 1000))
  }
}

/** What sites buy later in a draw (C8): in the year it falls in, never past the horizon. */
function buyLater(
  keys: readonly (readonly StreamKey[])[],
  { terms }: OptionSet,
  draw: number,
  horizonYears: number,
  recorder: SiteRecorder,
): void {
  terms.later.forEach(({ year, chance, cost }, purchase) => {
    const within = Math.floor(year)
    if (within >= horizonYears) return
    const cents = hundredths(cost)
    for (const key of keys[purchase] ?? []) {
      if (laterUniform(key, draw) < chance) recorder.buyLater(draw, within, cents)
    }
  })
}

function recordFailures(
  { n, lane, before, action, failedAt }: Rows,
  draw: number,
  effect: FailureEffect,
  recorder: SiteRecorder,
): void {
  for (let row = 0; row < n; row++) {
    if (action[row] === PLANNED) continue
    // the row is there
    recorder.fail(lane[row] as number, draw, Math.floor(failedAt[row] as number), (before[row] as number) < 0, effect)
  }
}

/** Visits of the units of a population in the year of their return; a shared one once. */
function recordVisits(
  { n, visit, returnedAt }: Rows,
  draw: number,
  visited: Uint8Array,
  horizonYears: number,
  recorder: SiteRecorder,
): void {
  for (let row = 0; row < n; row++) {
    const at = returnedAt[row] as number // the row is there
    const shared = visit[row] as number
    if (at > horizonYears || (shared >= 0 && visited[shared] === 1)) continue
    if (shared >= 0) visited[shared] = 1
    recorder.visit(draw, Math.min(Math.floor(at), horizonYears - 1))
  }
}
