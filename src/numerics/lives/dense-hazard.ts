import { cumulativeHazard, hazardTerms, type Mode } from './competing-risks.ts'

/** Cells a year of the table. Ours: see the error below. */
const CELLS = 8
/** Error halfway between two nodes up to which a cell is used: of the hazard, or of its size above 1. */
const TOLERANCE = 1e-9

const terms = new Float64Array(3)

/**
 * Cumulative hazards at any age, for millions of look-ups (M1): cubic pieces between ages an eighth of a year apart that
 * hold the hazard and its slope there. `cumulativeHazard` replaces a piece that is off by more than 1e-9 halfway, such as
 * those of the first months where the hazard rate changes fast.
 */
export class DenseHazard {
  readonly #modes: readonly Mode[]
  /** 1 for the cells that hold. */
  readonly #holds: Uint8Array
  /** Cumulative hazard, and its change over a cell at the slope there, at each node. */
  readonly #nodes: Float64Array

  /**
   * @param modes - of the units
   * @param oldestYears - highest age in the table, > 0
   */
  constructor(modes: readonly Mode[], oldestYears: number) {
    this.#modes = modes
    const cells = Math.ceil(oldestYears * CELLS)
    this.#nodes = new Float64Array(2 * (cells + 1))
    for (let node = 1; node <= cells; node++) {
      const age = node / CELLS
      hazardTerms(modes, Math.log(age), 0, terms)
      this.#nodes[2 * node] = terms[0] ?? 0
      this.#nodes[2 * node + 1] = (terms[1] ?? 0) / node
    }
    this.#holds = new Uint8Array(cells)
    // the rate at age 0 may be infinite: the first cell is left out
    for (let cell = 1; cell < cells; cell++) {
      const exact = cumulativeHazard(modes, (cell + 0.5) / CELLS)
      this.#holds[cell] = Math.abs(this.#between(cell + 0.5) - exact) <= TOLERANCE * Math.max(exact, 1) ? 1 : 0
    }
  }

  /**
   * The cumulative hazard at an age (M1).
   *
   * @param ageYears - years, >= 0
   * @returns >= 0; error under 2e-9, relative above 1
   */
  at(ageYears: number): number {
    const place = ageYears * CELLS
    return this.#holds[Math.floor(place)] === 1 ? this.#between(place) : cumulativeHazard(this.#modes, ageYears)
  }

  #between(place: number): number {
    const cell = Math.floor(place)
    const t = place - cell
    const nodes = this.#nodes
    const y0 = nodes[2 * cell] as number // within the table
    const d0 = nodes[2 * cell + 1] as number
    const y1 = nodes[2 * cell + 2] as number
    const d1 = nodes[2 * cell + 3] as number
    const rise = y1 - y0
    return y0 + t * (d0 + t * (3 * rise - 2 * d0 - d1 + t * (d0 + d1 - 2 * rise)))
  }
}
