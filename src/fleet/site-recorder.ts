import { momentsOf, varianceOf } from '../numerics/moments.ts'
import { quantiles } from '../numerics/quantile.ts'
import { type StreamKey, streamKey } from '../numerics/streams.ts'
import type { ChunkSums } from './fleet-sums.ts'
import { hundredths } from './hundredths.ts'

/** What one site came to, alone. */
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
}

/** Where a site is counted. */
export interface SitePlaces {
  readonly model: number
  readonly provider: number
  /** Groups of the sample. */
  readonly groups: readonly number[]
}

/**
 * Enters the lifetimes of one site after another into the sums of a chunk (F4), and keeps what the site alone came to.
 */
export class SiteRecorder {
  readonly #sums: ChunkSums
  // columns that every draw touches
  readonly #cash: Float64Array
  readonly #apart: Float64Array
  readonly #failed: Float64Array
  readonly #modelFailed: Float64Array
  readonly #modelFirst: Float64Array
  readonly #seed: number
  readonly #draws: number
  readonly #years: number
  readonly #confidence: number
  readonly #totals: Float64Array
  readonly #needs: Float64Array
  /** Row of every draw in the sums without common cause. */
  readonly #rows: Int32Array
  #places: SitePlaces = { model: 0, provider: 0, groups: [] }
  #failures = 0
  #lostWh = 0

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
    this.#modelFailed = sums.modelFailures
    this.#modelFirst = sums.modelFirstFailures
    this.#seed = seed
    this.#draws = draws
    this.#years = years
    this.#confidence = confidence
    this.#totals = new Float64Array(draws)
    this.#needs = new Float64Array(draws)
    this.#rows = new Int32Array(draws)
  }

  /** Begins a site. */
  begin(id: string, places: SitePlaces): void {
    this.#places = places
    this.#failures = 0
    this.#lostWh = 0
    drawOrder(streamKey(this.#seed, JSON.stringify(['order', id])), this.#rows)
  }

  /** Cash of one draw and year, hundredths; once a draw and year. */
  pay(draw: number, year: number, cents: number): void {
    const years = this.#years
    const at = draw * years + year
    const apart = (this.#rows[draw] ?? 0) * years + year
    add(this.#cash, at, cents)
    add(this.#apart, apart, cents)
    const { groups } = this.#places
    for (let i = 0; i < groups.length; i++) {
      const start = (groups[i] ?? 0) * this.#draws * years
      add(this.#sums.sampleCash, start + at, cents)
      add(this.#sums.sampleIndependent, start + apart, cents)
    }
  }

  /** One failure; `first` of an original unit. */
  fail(draw: number, year: number, first: boolean): void {
    add(this.#failed, draw * this.#years + year, 1)
    const byModel = this.#places.model * this.#years + year
    add(this.#modelFailed, byModel, 1)
    if (first) add(this.#modelFirst, byModel, 1)
    this.#failures++
  }

  /**
   * Ends a draw.
   *
   * @param draw - number of the draw
   * @param totalCents - cash to the horizon, hundredths
   * @param need - contribution the draw needs (R2), money
   * @param lostWh - energy lost, whole Wh
   */
  endDraw(draw: number, totalCents: number, need: number, lostWh: number): void {
    this.#totals[draw] = totalCents
    this.#needs[draw] = need
    if (lostWh !== 0) {
      add(this.#sums.lostWh, draw, lostWh)
      this.#lostWh += lostWh
    }
    if (totalCents === 0) return
    add(this.#sums.modelCash, this.#places.model * this.#draws + draw, totalCents)
    add(this.#sums.providerCash, this.#places.provider * this.#draws + draw, totalCents)
  }

  /** Ends the site and gives what it came to. */
  end(): SiteFigures {
    const moments = momentsOf(this.#totals)
    const [cash90 = 0] = quantiles(this.#totals, [0.9])
    const [need = 0] = quantiles(this.#needs, [this.#confidence])
    const figures: SiteFigures = {
      failures: this.#failures / this.#draws,
      cash: moments.mean / 100,
      lostKwh: this.#lostWh / this.#draws / 1000,
      cash90: Math.round(cash90),
      contribution: hundredths(need),
      variance: BigInt(Math.round(varianceOf(moments))),
    }
    const { model, provider, groups } = this.#places
    add(this.#sums.modelSites, model, 1)
    add(this.#sums.providerSites, provider, 1)
    for (const scope of [0, ...groups.map(group => group + 1)]) {
      add(this.#sums.sites, scope, 1)
      add(this.#sums.singleContribution, scope, figures.contribution)
      add(this.#sums.singleCash90, scope, figures.cash90)
    }
    return figures
  }
}

/**
 * The order in which a site's draws are taken where common cause is left out (F7): row = (a·draw + b) mod draws, a
 * without common factor. Every draw is used once, so the site alone stays as it is; what it shared with other sites in
 * a draw now falls on different rows.
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
