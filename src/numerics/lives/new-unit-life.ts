import { cubicPiece } from '../cubic-piece.ts'
import { cumulativeHazard, hazardTerms, type Mode } from './competing-risks.ts'

/** Cells a year of the two tables. Ours: see the errors below. */
const CELLS = 8
const SEASON_CELLS = 64
/** Error halfway between two nodes up to which a cell of the first is used. Ours. */
const TOLERANCE = 1e-9
/** Change by steps half as long up to which sums by season are used: steep and very short lives are off by more. Ours. */
const SEASON_TOLERANCE = 1e-6
/** Steps of the first cell of the second table, each half as long as the one after it. Ours. */
const FIRST_STEPS = 24
const CYCLE = 2 * Math.PI

const terms = new Float64Array(3)

/**
 * Sums over the failures of a unit by an age, weighted with the season: ∫ cos 2πt dF and ∫ sin 2πt dF, F the chance to
 * have failed by then.
 */
export interface SeasonSums {
  cosine: number
  sine: number
}

/**
 * The life of a new unit, for millions of look-ups (M1, M4): by any age, the chance that it has failed, and the same
 * weighted with the season. Cubic pieces between nodes that hold a value and its slope.
 */
export class NewUnitLife {
  readonly #modes: readonly Mode[]
  readonly #multiplier: number
  readonly #years: number
  /** Chance, and its change over a cell at the slope there, at each node. */
  readonly #nodes: Float64Array
  /** 1 for the cells that hold. */
  readonly #holds: Uint8Array
  /** ∫ F·cos 2πt and ∫ F·sin 2πt with their slopes, four numbers a node; made when first needed. */
  #season: Float64Array | null = null
  #holdsSeason = true

  /**
   * @param modes - of the unit
   * @param multiplier - m of M4, > 0
   * @param years - highest age in the tables, > 0
   */
  constructor(modes: readonly Mode[], multiplier: number, years: number) {
    this.#modes = modes
    this.#multiplier = multiplier
    this.#years = years
    const cells = Math.ceil(years * CELLS)
    this.#nodes = new Float64Array(2 * (cells + 1))
    for (let node = 1; node <= cells; node++) {
      hazardTerms(modes, Math.log(node / CELLS), 0, terms)
      const hazard = terms[0] ?? 0
      const slope = terms[1] ?? 0
      this.#nodes[2 * node] = -Math.expm1(-multiplier * hazard)
      this.#nodes[2 * node + 1] = hazard === Infinity ? 0 : (multiplier * slope * Math.exp(-multiplier * hazard)) / node
    }
    this.#holds = new Uint8Array(cells)
    // the rate at age 0 may be infinite: the first cell is left out
    for (let cell = 1; cell < cells; cell++) {
      const off = between(this.#nodes, 2, 0, cell + 0.5) - this.#exactly((cell + 0.5) / CELLS)
      this.#holds[cell] = Math.abs(off) <= TOLERANCE ? 1 : 0
    }
  }

  /**
   * The chance that it has failed by an age: 1 − exp(−m·H).
   *
   * @param years - age, >= 0
   * @returns [0, 1]; error under 2e-9
   */
  failedBy(years: number): number {
    const place = years * CELLS
    return this.#holds[Math.floor(place)] === 1 ? between(this.#nodes, 2, 0, place) : this.#exactly(years)
  }

  /**
   * ∫ cos 2πt dF and ∫ sin 2πt dF from age 0 to an age.
   *
   * @param years - age, from 0 to the highest in the tables
   * @param out - filled; error of each under 1e-6 where `holdsSeason`, from an age of six days on
   */
  seasonBy(years: number, out: SeasonSums): void {
    this.#season ??= this.#tabulateSeason()
    const place = years * SEASON_CELLS
    byParts(years, this.failedBy(years), between(this.#season, 4, 0, place), between(this.#season, 4, 2, place), out)
  }

  /** Whether the sums by season are exact enough; they are not for steep and very short lives. */
  get holdsSeason(): boolean {
    this.#season ??= this.#tabulateSeason()
    return this.#holdsSeason
  }

  #exactly(years: number): number {
    return -Math.expm1(-this.#multiplier * cumulativeHazard(this.#modes, years))
  }

  #tabulateSeason(): Float64Array {
    const cells = Math.ceil(this.#years * SEASON_CELLS)
    const season = new Float64Array(4 * (cells + 1))
    const failedBy = (years: number): number => this.failedBy(years)
    integrate(failedBy, this.#years, SEASON_CELLS, (node, cosine, sine, failed) => {
      const turn = (CYCLE * node) / SEASON_CELLS
      season[4 * node] = cosine
      season[4 * node + 1] = (failed * Math.cos(turn)) / SEASON_CELLS
      season[4 * node + 2] = sine
      season[4 * node + 3] = (failed * Math.sin(turn)) / SEASON_CELLS
    })
    integrate(failedBy, this.#years, 2 * SEASON_CELLS, (node, cosine, sine) => {
      const known = { cosine: between(season, 4, 0, node / 2), sine: between(season, 4, 2, node / 2) }
      // of the first cell, six days, only its end is held: there the slope may be infinite
      if (node !== 1 && !agree(known, { cosine, sine })) this.#holdsSeason = false
    })
    return season
  }
}

/**
 * ∫ cos 2πt dF and ∫ sin 2πt dF over some years, for any chance to have failed.
 *
 * @param failedBy - F: the chance by a moment, years
 * @param years - whole, >= 1
 * @returns error of each under 1e-6; null where F rises too steeply for that
 */
export function seasonOf(failedBy: (years: number) => number, years: number): SeasonSums | null {
  const [sums, finer] = [SEASON_CELLS, 2 * SEASON_CELLS].map(perYear => {
    const found = { cosine: 0, sine: 0 }
    integrate(failedBy, years, perYear, (node, cosine, sine, failed) => {
      if (node === years * perYear) byParts(years, failed, cosine, sine, found)
    })
    return found
  })
  return sums !== undefined && finer !== undefined && agree(sums, finer) ? finer : null
}

function agree(one: SeasonSums, other: SeasonSums): boolean {
  const off = Math.max(Math.abs(one.cosine - other.cosine), Math.abs(one.sine - other.sine))
  return CYCLE * off <= SEASON_TOLERANCE
}

/**
 * ∫ cos 2πt dF = cos·F + 2π ∫ F·sin 2πt dt, and ∫ sin 2πt dF = sin·F − 2π ∫ F·cos 2πt dt: no slope of F is needed, which may
 * be infinite at age 0.
 */
function byParts(years: number, failed: number, cosine: number, sine: number, out: SeasonSums): void {
  const turn = CYCLE * years
  out.cosine = Math.cos(turn) * failed + CYCLE * sine
  out.sine = Math.sin(turn) * failed - CYCLE * cosine
}

/**
 * ∫ F·cos 2πt dt and ∫ F·sin 2πt dt up to each node, by Simpson's rule; the first cell in steps that halve towards 0, where
 * the slope of F may be infinite.
 */
function integrate(
  failedBy: (years: number) => number,
  years: number,
  perYear: number,
  each: (node: number, cosine: number, sine: number, failed: number) => void,
): void {
  let cosine = 0
  let sine = 0
  const addStep = (from: number, to: number): void => {
    for (const [at, weight] of [[from, 1] as const, [(from + to) / 2, 4] as const, [to, 1] as const]) {
      const part = (weight * (to - from) * failedBy(at)) / 6
      cosine += part * Math.cos(CYCLE * at)
      sine += part * Math.sin(CYCLE * at)
    }
  }
  each(0, cosine, sine, 0)
  for (let node = 1; node <= Math.ceil(years * perYear); node++) {
    const to = node / perYear
    if (node > 1) addStep((node - 1) / perYear, to)
    else for (let end = to, step = 0; step < FIRST_STEPS; end /= 2, step++) addStep(end / 2, end)
    each(node, cosine, sine, failedBy(to))
  }
}

/** The value at a place of a table; a node has `width` numbers, at `at` a value and its slope. */
function between(nodes: Float64Array, width: number, at: number, place: number): number {
  const cell = Math.min(Math.floor(place), nodes.length / width - 2)
  return cubicPiece(nodes, width * cell + at, width * (cell + 1) + at, place - cell)
}
