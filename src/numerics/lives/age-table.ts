import { ageAtHazard, type CuredModes, hazardTerms, type Mode } from './competing-risks.ts'

/** Nodes of the table and their distance in ln age. Ours: from the oldest age down to an hour or so. */
const NODES = 64
const DISTANCE = 0.2
/** Last step of the search, times the steepest shape, after which the age is exact to 1e-11: its error is of the third order. */
const SMALL_STEP = 1e-4

const terms = new Float64Array(3)

/**
 * Ages at failure of units with the same modes, for many look-ups (M1): the inverse of the cumulative hazard. A cubic
 * between nodes gives a guess, one step of Halley's method the answer. A node costs one hazard and is computed when
 * first needed, from the oldest age down, since most failures are of old units.
 */
export class AgeTable {
  readonly modes: readonly Mode[]
  readonly #single: boolean
  readonly #steepest: number
  readonly #logOldest: number
  /** Nodes computed so far. */
  #known = 0
  /** ln level at each node, and d ln age/d ln level there; the node's ln age is logOldest − DISTANCE·node. */
  #logLevel: Float64Array | null = null
  #slope: Float64Array | null = null

  /**
   * @param modes - of the units
   * @param oldestYears - highest age in the table, > 0; beyond it each age is solved for
   */
  constructor(modes: readonly Mode[], oldestYears: number) {
    this.modes = modes
    this.#single = modes.length === 1
    this.#logOldest = Math.log(oldestYears)
    this.#steepest = modes.reduce((most, mode) => Math.max(most, mode.shape), 1)
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
    const logLevel = Math.log(level)
    const node = this.#nodeBelow(logLevel)
    if (node < 0) return ageAtHazard(this.modes, level)
    const guess = this.#guess(node, logLevel)
    hazardTerms(this.modes, guess, 0, terms)
    const hazard = terms[0] ?? 0
    const slope = (terms[1] ?? 0) / hazard
    const bend = (terms[2] ?? 0) / hazard - slope * slope
    const excess = Math.log(hazard) - logLevel
    const step = (2 * excess * slope) / (2 * slope * slope - excess * bend)
    if (Math.abs(step) * this.#steepest < SMALL_STEP) return Math.exp(guess - step)
    return ageAtHazard(this.modes, level, 0, guess, logLevel)
  }

  /**
   * Converts levels to ages, as `at` does for units without cured modes.
   *
   * @param levels - replaced by the ages
   * @param n - how many
   */
  toAges(levels: Float64Array, n: number): void {
    for (let i = 0; i < n; i++) levels[i] = this.at(levels[i] as number) // within the column
  }

  /** The first node, from the oldest, whose level is not above; −1 if there is none or the level is above them all. */
  #nodeBelow(logLevel: number): number {
    this.#logLevel ??= new Float64Array(NODES)
    this.#slope ??= new Float64Array(NODES)
    for (let node = 0; node < NODES; node++) {
      if (node === this.#known) this.#addNode(this.#logLevel, this.#slope)
      if ((this.#logLevel[node] ?? 0) <= logLevel) return node - 1 < 0 ? -1 : node
    }
    return -1
  }

  #addNode(logLevels: Float64Array, slopes: Float64Array): void {
    const node = this.#known++
    hazardTerms(this.modes, this.#logOldest - DISTANCE * node, 0, terms)
    const hazard = terms[0] ?? 0
    logLevels[node] = Math.log(hazard)
    slopes[node] = hazard / (terms[1] ?? 1)
  }

  /** ln age by the cubic between a node and the next older one. */
  #guess(node: number, logLevel: number): number {
    const levels = this.#logLevel
    const slopes = this.#slope
    if (levels === null || slopes === null) return Number.NaN
    const low = levels[node] ?? 0
    const width = (levels[node - 1] ?? 0) - low
    const t = (logLevel - low) / width
    const d0 = width * (slopes[node] ?? 0)
    const d1 = width * (slopes[node - 1] ?? 0)
    const start = this.#logOldest - DISTANCE * node
    return start + t * (d0 + t * (3 * DISTANCE - 2 * d0 - d1 + t * (d0 + d1 - 2 * DISTANCE)))
  }
}
