/**
 * What happened to one option in some lifetimes: all chance, no money.
 */
import { MonitoringGaps } from './monitoring.ts'
import { ProviderExits } from './provider-exits.ts'
import { Rows } from './rows.ts'

/** What a population of a lifetime starts from: one entry a lifetime. */
export class Starts {
  /** Streams of the population (K1): high and low word of the key. */
  keyHigh = new Int32Array(0)
  keyLow = new Int32Array(0)
  /** Age of the original units, years. */
  ageYears = new Float64Array(0)
  /** Cumulative hazard of an unhit original unit at the start and at the horizon, for a model with multiplier 1. */
  hazardAtStart = new Float64Array(0)
  hazardAtHorizon = new Float64Array(0)

  /** Reserves memory for some lifetimes; earlier content is lost. */
  reserve(lanes: number): void {
    if (lanes <= this.keyHigh.length) return
    this.keyHigh = new Int32Array(lanes)
    this.keyLow = new Int32Array(lanes)
    this.ageYears = new Float64Array(lanes)
    this.hazardAtStart = new Float64Array(lanes)
    this.hazardAtHorizon = new Float64Array(lanes)
  }
}

/**
 * Lifetimes of one option side by side. A lifetime is identified by its lane, from 0; each population has a table of
 * rows. The memory is reused.
 */
export class History {
  /** How many lifetimes. */
  n = 0
  /** Number of the draw over the whole run, by lane. */
  draw = new Float64Array(0)
  /** By model: 1 where a bad batch struck it, by lane. */
  struck: readonly Uint8Array[] = []
  /** By population. */
  starts: readonly Starts[] = []
  rows: readonly Rows[] = []
  /** Shared visits so far. */
  nVisits = 0
  readonly gaps = new MonitoringGaps()
  /** Exits of the providers behind parts and labour cover (W5). */
  readonly partsExits = new ProviderExits()
  readonly labourExits = new ProviderExits()
  /** By model: end of production, years, by lane; Infinity never (M8). */
  endOfProduction: readonly Float64Array[] = []
  /** By later purchase of the option: one uniform number, in [0, 1), by lane (C8). */
  later: readonly Float64Array[] = []

  /**
   * Prepares it for some lifetimes without batch, exit or end of production. The caller then fills in draws, starts and
   * the chance of models; `playLanes` fills the rest.
   *
   * @param lanes - how many lifetimes
   * @param populations - of the option
   * @param models - of the scenario
   */
  begin(lanes: number, populations: number, models: number): void {
    this.n = lanes
    this.nVisits = 0
    if (this.draw.length < lanes) this.draw = new Float64Array(lanes)
    if (this.rows.length !== populations) {
      this.rows = Array.from({ length: populations }, () => new Rows())
      this.starts = Array.from({ length: populations }, () => new Starts())
    }
    for (const rows of this.rows) rows.clear()
    for (const starts of this.starts) starts.reserve(lanes)
    if (this.struck.length !== models || (this.struck[0]?.length ?? 0) < lanes) {
      this.struck = Array.from({ length: models }, () => new Uint8Array(lanes))
      this.endOfProduction = Array.from({ length: models }, () => new Float64Array(lanes))
    }
    for (const column of this.struck) column.fill(0, 0, lanes)
    for (const column of this.endOfProduction) column.fill(Infinity, 0, lanes)
    this.partsExits.begin(lanes)
    this.labourExits.begin(lanes)
    this.later = NOTHING_LATER
    this.gaps.begin(lanes)
  }

  /** Failures and planned replacements of all lifetimes. */
  get nRows(): number {
    let n = 0
    for (const rows of this.rows) n += rows.n
    return n
  }

  /**
   * Marks the lifetimes in which anything failed or was replaced.
   *
   * @param out - filled with 1 for those, else 0
   */
  markTouched(out: Uint8Array): void {
    out.fill(0, 0, this.n)
    for (const { n, lane, before } of this.rows) {
      for (let row = 0; row < n; row++) if ((before[row] as number) < 0) out[lane[row] as number] = 1
    }
  }
}

const NOTHING_LATER: readonly Float64Array[] = []
