import { ageAtHazard, type CuredModes, cumulativeHazard, type Mode } from './lifetime.ts'

/** Nodes of the table. Ours: with them two Newton steps at most bring the age to 1e-12. */
const NODES = 48
/** Lowest level of the table over its highest, as a logarithm; rarer levels are solved from scratch. */
const LOG_REACH = 12
/** Questions that are answered from scratch before the table is built: it costs about as much as twelve answers. */
const BEFORE_TABLE = 12

/**
 * Ages at failure of units with the same modes, asked often (M1): the inverse of the cumulative hazard, by a cubic
 * between nodes on logarithms and Newton steps after it. The table is made when it pays.
 */
export class AgeTable {
  readonly modes: readonly Mode[]
  /** Highest age of interest, years: beyond it answers may come from scratch. */
  readonly #oldestYears: number
  readonly #single: boolean
  #asked = 0
  #logLow = 0
  #perNode = 0
  /** ln age and d ln age/d ln level × node distance, alternating; empty until it pays. */
  #nodes = new Float64Array(0)

  /**
   * @param modes - of the units
   * @param oldestYears - highest age of interest, > 0
   */
  constructor(modes: readonly Mode[], oldestYears: number) {
    this.modes = modes
    this.#oldestYears = oldestYears
    this.#single = modes.length === 1
  }

  /**
   * The age at which the cumulative hazard reaches a level (M1).
   *
   * @param level - >= 0
   * @param cured - modes left out
   * @returns age, years; Infinity if never; relative error under 1e-11
   */
  at(level: number, cured: CuredModes = 0): number {
    if (cured !== 0 || this.#single || level <= 0) return ageAtHazard(this.modes, level, cured)
    if (this.#nodes.length === 0) {
      if (this.#asked++ < BEFORE_TABLE) return ageAtHazard(this.modes, level)
      this.#build()
    }
    const logLevel = Math.log(level)
    const place = (logLevel - this.#logLow) * this.#perNode
    if (!(place >= 0 && place < NODES - 1)) return ageAtHazard(this.modes, level)
    return ageAtHazard(this.modes, level, 0, this.#guess(place), logLevel)
  }

  /** ln age by the cubic. */
  #guess(place: number): number {
    const node = Math.floor(place)
    const t = place - node
    const y0 = this.#nodes[2 * node] ?? 0
    const d0 = this.#nodes[2 * node + 1] ?? 0
    const y1 = this.#nodes[2 * node + 2] ?? 0
    const d1 = this.#nodes[2 * node + 3] ?? 0
    const rise = y1 - y0
    return y0 + t * (d0 + t * (3 * rise - 2 * d0 - d1 + t * (d0 + d1 - 2 * rise)))
  }

  #build(): void {
    const logHigh = Math.log(cumulativeHazard(this.modes, this.#oldestYears))
    const distance = LOG_REACH / (NODES - 1)
    this.#logLow = logHigh - LOG_REACH
    this.#perNode = 1 / distance
    this.#nodes = new Float64Array(2 * NODES)
    let logAge = Number.NaN
    for (let node = NODES - 1; node >= 0; node--) {
      const logLevel = this.#logLow + node * distance
      const age = ageAtHazard(this.modes, Math.exp(logLevel), 0, logAge, logLevel)
      logAge = Math.log(age)
      // slope by a small step: only the start of a Newton search hangs on it
      const step = 1e-4
      const slope = Math.log(cumulativeHazard(this.modes, age * (1 + step))) - logLevel
      this.#nodes[2 * node] = logAge
      this.#nodes[2 * node + 1] = (Math.log1p(step) / slope) * distance
    }
  }
}
