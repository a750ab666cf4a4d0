import { type StreamKey, streamKey } from '../../numerics/random/streams.ts'
import { momentsOf, varianceOf } from '../../numerics/samples/moments.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import type { FailureEffect } from '../../simulation/sums/failure-effects.ts'
import type { ChunkSums } from './fleet-sums.ts'
import { hundredths } from './hundredths.ts'

/** Figures of one site alone. */
export interface SiteFigures {
  /** Means over draws: failures, cash (money), energy lost (kWh). */
  readonly failures: number
  readonly cash: number
  readonly lostKwh: number
  /** Cash to the horizon that nine of ten lifetimes stay under, hundredths. */
  readonly cash90: number
  /** Level contribution at the confidence of the fleet, hundredths a year (R2). */
  readonly contribution: number
  /** Variance of cash to the horizon, hundredths², whole. */
  readonly variance: bigint
  /** Chance that something other than monitoring fails, and mean cash (money): next year, and in the next five years. */
  readonly next: { readonly chance: number; readonly cash: number }
  readonly nextFive: { readonly chance: number; readonly cash: number }
}

/** Where a site is counted. */
export interface SitePlaces {
  readonly model: number
  readonly provider: number
  /** Groups of the sample. */
  readonly groups: readonly number[]
}

/** Years of the nearer future, of which the first is also counted by itself (F7a). */
const YEARS_SOON = 5
const NEXT = 1
const FIVE = 2

/** Sites that are played side by side. Ours: the results of a thousand of their draws take five megabytes. */
export const BLOCK_SITES = 256

/**
 * Enters the lifetimes of a block of sites into the sums of a chunk (F4), and keeps the figures of each site alone. A
 * site of the block is identified by its slot, from 0.
 */
export class SiteRecorder {
  readonly #sums: ChunkSums
  // columns that every draw touches
  readonly #cash: Float64Array
  readonly #apart: Float64Array
  readonly #failed: Float64Array
  readonly #modelFailed: Float64Array
  readonly #modelFirst: Float64Array
  readonly #lost: Float64Array
  readonly #modelCash: Float64Array
  readonly #providerCash: Float64Array
  readonly #seed: number
  readonly #draws: number
  readonly #years: number
  readonly #confidence: number
  readonly #totals: Float64Array
  readonly #needs: Float64Array
  /** By slot and draw: row of the draw in the sums without common cause. */
  readonly #rows: Int32Array
  readonly #places: SitePlaces[] = []
  readonly #failures = new Int32Array(BLOCK_SITES)
  readonly #lostWh = new Float64Array(BLOCK_SITES)
  readonly #visits: Float64Array
  // hundredths, sums over draws
  readonly #cashNext = new Float64Array(BLOCK_SITES)
  readonly #cashFive = new Float64Array(BLOCK_SITES)
  /** By slot and draw: whether something failed, FIVE in the next five years, and NEXT in the first of them. */
  readonly #failedSoon: Uint8Array

  /**
   * @param sums - of the chunk, added to
   * @param seed - of the run
   * @param draws - of the fleet
   * @param years - of the horizon
   * @param confidence - of the contribution, (0, 1)
   */
  constructor(sums: ChunkSums, seed: number, draws: number, years: number, confidence: number) {
    this.#sums = sums
    this.#cash = sums.cash
    this.#apart = sums.independentCash
    this.#failed = sums.failures
    this.#visits = sums.visits
    this.#failedSoon = new Uint8Array(BLOCK_SITES * draws)
    this.#modelFailed = sums.modelFailures
    this.#modelFirst = sums.modelFirstFailures
    this.#lost = sums.lostWh
    this.#modelCash = sums.modelCash
    this.#providerCash = sums.providerCash
    this.#seed = seed
    this.#draws = draws
    this.#years = years
    this.#confidence = confidence
    this.#totals = new Float64Array(BLOCK_SITES * draws)
    this.#needs = new Float64Array(BLOCK_SITES * draws)
    this.#rows = new Int32Array(BLOCK_SITES * draws)
  }

  /**
   * Begins a site.
   *
   * @param slot - [0, BLOCK_SITES)
   * @param id - of the site
   * @param places - where it is counted
   */
  begin(slot: number, id: string, places: SitePlaces): void {
    this.#places[slot] = places
    this.#failures[slot] = 0
    this.#lostWh[slot] = 0
    this.#cashNext[slot] = 0
    this.#cashFive[slot] = 0
    this.#failedSoon.fill(0, slot * this.#draws, (slot + 1) * this.#draws)
    const key = streamKey(this.#seed, JSON.stringify(['order', id]))
    drawOrder(key, this.#rows.subarray(slot * this.#draws, (slot + 1) * this.#draws))
  }

  /** Enters the cash of one draw and year, hundredths; called once for each. */
  pay(slot: number, draw: number, year: number, cents: number): void {
    const years = this.#years
    const at = draw * years + year
    const apart = (this.#rows[slot * this.#draws + draw] ?? 0) * years + year
    this.#cash[at] = (this.#cash[at] ?? 0) + cents
    this.#apart[apart] = (this.#apart[apart] ?? 0) + cents
    if (year < YEARS_SOON) {
      this.#cashFive[slot] = (this.#cashFive[slot] ?? 0) + cents
      if (year === 0) this.#cashNext[slot] = (this.#cashNext[slot] ?? 0) + cents
    }
    const groups = this.#places[slot]?.groups
    if (groups !== undefined && groups.length > 0) this.#payGroups(groups, at, apart, cents)
  }

  #payGroups(groups: readonly number[], at: number, apart: number, cents: number): void {
    for (const group of groups) {
      const start = group * this.#draws * this.#years
      add(this.#sums.sampleCash, start + at, cents)
      add(this.#sums.sampleIndependent, start + apart, cents)
    }
  }

  /** One failure, by what it stops; `first` of an original unit. */
  fail(slot: number, draw: number, year: number, first: boolean, effect: FailureEffect): void {
    const at = draw * this.#years + year
    this.#failed[at] = (this.#failed[at] ?? 0) + 1
    if (effect === 'monitoringOnly') add(this.#sums.monitoringFailures, at, 1)
    if (effect === 'batteryOnly') add(this.#sums.batteryFailures, at, 1)
    const byModel = (this.#places[slot]?.model ?? 0) * this.#years + year
    this.#modelFailed[byModel] = (this.#modelFailed[byModel] ?? 0) + 1
    if (first) this.#modelFirst[byModel] = (this.#modelFirst[byModel] ?? 0) + 1
    this.#failures[slot] = (this.#failures[slot] ?? 0) + 1
    // a failure of monitoring alone does not raise the rank of a roof
    if (year < YEARS_SOON && effect !== 'monitoringOnly') {
      const soon = slot * this.#draws + draw
      this.#failedSoon[soon] = (this.#failedSoon[soon] ?? 0) | (year === 0 ? NEXT | FIVE : FIVE)
    }
  }

  /** Some sites may buy something later (C8). */
  mayBuyLater(sites: number): void {
    add(this.#sums.laterSites, 0, sites)
  }

  /** Something is bought later by one site, hundredths; no part of its cash (C8). */
  buyLater(draw: number, year: number, cents: number): void {
    add(this.#sums.laterCash, draw * this.#years + year, cents)
    add(this.#sums.laterBought, draw, 1)
  }

  /** One visit, whoever pays it, in the year of its return. */
  visit(draw: number, year: number): void {
    const at = draw * this.#years + year
    this.#visits[at] = (this.#visits[at] ?? 0) + 1
  }

  /**
   * Ends a draw.
   *
   * @param slot - of the site
   * @param draw - number of the draw
   * @param totalCents - cash to the horizon, hundredths
   * @param need - contribution the draw needs (R2), money
   * @param lostWh - energy lost, whole Wh
   */
  endDraw(slot: number, draw: number, totalCents: number, need: number, lostWh: number): void {
    const at = slot * this.#draws + draw
    this.#totals[at] = totalCents
    this.#needs[at] = need
    if (lostWh !== 0) {
      this.#lost[draw] = (this.#lost[draw] ?? 0) + lostWh
      this.#lostWh[slot] = (this.#lostWh[slot] ?? 0) + lostWh
    }
    if (totalCents === 0) return
    const places = this.#places[slot]
    const byModel = (places?.model ?? 0) * this.#draws + draw
    const byProvider = (places?.provider ?? 0) * this.#draws + draw
    this.#modelCash[byModel] = (this.#modelCash[byModel] ?? 0) + totalCents
    this.#providerCash[byProvider] = (this.#providerCash[byProvider] ?? 0) + totalCents
  }

  /**
   * Ends a site and returns its figures.
   *
   * @param slot - of the site
   */
  end(slot: number): SiteFigures {
    const draws = this.#draws
    const totals = this.#totals.subarray(slot * draws, (slot + 1) * draws)
    const moments = momentsOf(totals)
    const [cash90 = 0] = quantiles(totals, [0.9])
    const [need = 0] = quantiles(this.#needs.subarray(slot * draws, (slot + 1) * draws), [this.#confidence])
    const figures: SiteFigures = {
      failures: (this.#failures[slot] ?? 0) / draws,
      cash: moments.mean / 100,
      lostKwh: (this.#lostWh[slot] ?? 0) / draws / 1000,
      cash90: Math.round(cash90),
      contribution: hundredths(need),
      variance: BigInt(Math.round(varianceOf(moments))),
      next: { chance: this.#chanceOf(slot, NEXT), cash: (this.#cashNext[slot] ?? 0) / draws / 100 },
      nextFive: { chance: this.#chanceOf(slot, FIVE), cash: (this.#cashFive[slot] ?? 0) / draws / 100 },
    }
    add(this.#sums.siteCash, 0, this.#cashNext[slot] ?? 0)
    add(this.#sums.siteCash, 1, this.#cashFive[slot] ?? 0)
    add(this.#sums.siteCash, 2, Math.round(moments.mean * draws))
    const { model, provider, groups } = this.#places[slot] ?? { model: 0, provider: 0, groups: [] }
    add(this.#sums.modelSites, model, 1)
    add(this.#sums.providerSites, provider, 1)
    for (const scope of [0, ...groups.map(group => group + 1)]) {
      add(this.#sums.sites, scope, 1)
      add(this.#sums.singleContribution, scope, figures.contribution)
      add(this.#sums.singleCash90, scope, figures.cash90)
    }
    return figures
  }

  /** Share of the draws of a site in which something fails so soon. */
  #chanceOf(slot: number, soon: number): number {
    let draws = 0
    for (let draw = 0; draw < this.#draws; draw++)
      if (((this.#failedSoon[slot * this.#draws + draw] ?? 0) & soon) !== 0) draws++
    return draws / this.#draws
  }
}

/**
 * The order in which a site's draws are taken where common cause is left out (F7): row = (a·draw + b) mod draws, a
 * without common factor. Every draw is used once, so the figures of the site alone do not change; what it shares with
 * other sites in a draw falls on different rows.
 *
 * @param key - stream of the site's order
 * @param rows - filled
 */
export function drawOrder(key: StreamKey, rows: Int32Array): void {
  const draws = rows.length
  let step = 1 + ((key.low >>> 0) % draws)
  while (commonFactor(step, draws) !== 1) step++
  step %= draws
  let row = (key.high >>> 0) % draws
  for (let draw = 0; draw < draws; draw++) {
    rows[draw] = row
    row += step
    if (row >= draws) row -= draws
  }
}

function commonFactor(a: number, b: number): number {
  return b === 0 ? a : commonFactor(b, a % b)
}

function add(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
