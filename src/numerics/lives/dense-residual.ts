import { cubicPiece } from '../cubic-piece.ts'
import { power } from '../power.ts'
import type { Mode } from './competing-risks.ts'
import { ResidualLives } from './mean-residual-life.ts'

/** Cells a year of the table. Ours: see the error below. */
const CELLS = 8
/** Relative error halfway between two nodes up to which a cell is used. */
const TOLERANCE = 5e-8
/** Steepest shape for which the table's steps are fine enough. Ours: S then falls within a third of a year or more. */
const STEEPEST = 30
/** Lives are followed to this age (C6), in panels of this width beyond the table. */
const OLDEST_YEARS = 100
const PANEL_YEARS = 1

/**
 * Mean residual lives of units of any age, for millions of look-ups (C6): cubic pieces between ages an eighth of a year
 * apart that hold the mean residual life r and its slope there, r' = h·r − 1 with the hazard rate h. `ResidualLives`
 * replaces a piece that is off by more than 5e-8 halfway, and every piece of very steep lives.
 */
export class DenseResidual {
  readonly #lives: ResidualLives
  readonly #cells: number
  /** 1 for the cells that hold. */
  readonly #holds: Uint8Array
  /** Mean residual life, and its change over a cell at that slope, at each node. */
  readonly #nodes: Float64Array

  /**
   * @param modes - the modes of the units
   * @param oldestYears - highest age in the table, > 0: beyond it `ResidualLives` is used
   */
  constructor(modes: readonly Mode[], oldestYears: number) {
    this.#lives = new ResidualLives(modes)
    const plain = modes.every(({ shape, lifeYears }) => shape <= STEEPEST && lifeYears > 1 / STEEPEST)
    this.#cells = plain ? Math.ceil(Math.min(oldestYears, OLDEST_YEARS - 1) * CELLS) : 0
    // twice as many, to see how far off each cell is halfway
    const nodes = residualsAt(modes, 2 * this.#cells, 1 / (2 * CELLS))
    this.#nodes = new Float64Array(2 * (this.#cells + 1))
    for (let node = 0; node <= this.#cells; node++) {
      this.#nodes[2 * node] = nodes[4 * node] ?? 0
      this.#nodes[2 * node + 1] = 2 * (nodes[4 * node + 1] ?? 0)
    }
    this.#holds = new Uint8Array(this.#cells)
    for (let cell = 1; cell < this.#cells; cell++) {
      const halfway = nodes[4 * cell + 2] ?? 0
      const off = Math.abs(this.#between(cell + 0.5) - halfway)
      this.#holds[cell] = halfway > 0 && off <= TOLERANCE * halfway ? 1 : 0
    }
  }

  /**
   * Mean residual life at an age.
   *
   * @param ageYears - years, >= 0
   * @returns years, >= 0
   */
  at(ageYears: number): number {
    const place = ageYears * CELLS
    return this.#holds[Math.floor(place)] === 1 ? this.#between(place) : this.#lives.at(ageYears)
  }

  #between(place: number): number {
    const cell = Math.floor(place)
    return cubicPiece(this.#nodes, 2 * cell, 2 * cell + 2, place - cell)
  }
}

/**
 * Mean residual life and its change over a step, at ages 0, step, 2·step, …: ∫ S from the age to 100 over S. Age 0 is
 * left out, where the hazard rate may be infinite.
 */
function residualsAt(modes: readonly Mode[], steps: number, step: number): Float64Array {
  const out = new Float64Array(2 * (steps + 1))
  let area = areaBeyond(modes, steps * step)
  for (let node = steps; node > 0; node--) {
    const age = node * step
    const alive = survivalAt(modes, age)
    if (alive > 1e-290) {
      const residual = area / alive
      out[2 * node] = residual
      out[2 * node + 1] = (hazardRateAt(modes, age) * residual - 1) * step
    }
    area += areaBetween(modes, age - step, age)
  }
  return out
}

function areaBeyond(modes: readonly Mode[], fromYears: number): number {
  let area = 0
  for (let to = OLDEST_YEARS; to > fromYears; to -= PANEL_YEARS) {
    area += areaBetween(modes, Math.max(to - PANEL_YEARS, fromYears), to)
  }
  return area
}

/** Five-point rule; Abramowitz & Stegun (1964), table 25.4. */
const GAUSS = [
  { at: 0, weight: 128 / 225 },
  { at: 0.538469310105683, weight: 0.478628670499366 },
  { at: -0.538469310105683, weight: 0.478628670499366 },
  { at: 0.906179845938664, weight: 0.236926885056189 },
  { at: -0.906179845938664, weight: 0.236926885056189 },
] as const

function areaBetween(modes: readonly Mode[], from: number, to: number): number {
  const half = (to - from) / 2
  let sum = 0
  for (const { at, weight } of GAUSS) sum += weight * survivalAt(modes, from + half * (1 + at))
  return half * sum
}

function survivalAt(modes: readonly Mode[], ageYears: number): number {
  let alive = 1
  for (const { susceptible, shape, lifeYears } of modes) {
    const gone = Math.exp(-power(ageYears / lifeYears, shape))
    alive *= susceptible === 1 ? gone : 1 - susceptible + susceptible * gone
  }
  return alive
}

/** h = Σ over modes of −S'/S. */
function hazardRateAt(modes: readonly Mode[], ageYears: number): number {
  let rate = 0
  for (const { susceptible, shape, lifeYears } of modes) {
    const x = power(ageYears / lifeYears, shape)
    const alive = susceptible * Math.exp(-x)
    rate += ((shape * x) / ageYears) * (susceptible === 1 ? 1 : alive / (1 - susceptible + alive))
  }
  return rate
}
