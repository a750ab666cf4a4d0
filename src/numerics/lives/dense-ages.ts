import { AgeTable } from './age-table.ts'
import { type CuredModes, cumulativeHazard, hazardTerms, type Mode } from './competing-risks.ts'

/** Nodes a unit of ln level, and the reach of the table below its highest level. Ours: see the error below. */
const NODES_PER_UNIT = 16
const REACH = 12
const NODES = NODES_PER_UNIT * REACH + 1
/** Relative error of an age halfway between two nodes up to which the table is used. */
const TOLERANCE = 1e-9

const terms = new Float64Array(3)

/**
 * Ages at failure for millions of look-ups (M1): a polynomial of fifth degree between nodes that hold the age and its
 * first two derivatives by ln level. Relative error 1e-11 for shapes people state; where halfway between nodes it is
 * over 1e-9, every age is solved for. A result does not depend on earlier look-ups.
 */
export class DenseAges extends AgeTable {
  readonly #logLowest: number
  /** Three numbers a node: age, first and second derivative by node distance; null where ages are solved for. */
  readonly #nodes: Float64Array | null

  /**
   * @param modes - of the units
   * @param oldestYears - highest age in the table, > 0; beyond it each age is solved for
   */
  constructor(modes: readonly Mode[], oldestYears: number) {
    super(modes, oldestYears)
    this.#logLowest = Math.log(cumulativeHazard(modes, oldestYears)) - REACH
    const nodes = tabulate(modes, this.#logLowest, Math.log(oldestYears))
    this.#nodes = nodes !== null && holds(nodes, modes, this.#logLowest) ? nodes : null
  }

  override at(level: number, cured: CuredModes = 0): number {
    const nodes = this.#nodes
    const place = (Math.log(level) - this.#logLowest) * NODES_PER_UNIT
    if (nodes !== null && cured === 0 && place >= 0 && place < NODES - 1) return between(nodes, place)
    return super.at(level, cured)
  }

  override toAges(levels: Float64Array, n: number): void {
    const nodes = this.#nodes
    if (nodes === null) {
      super.toAges(levels, n)
      return
    }
    const logLowest = this.#logLowest
    for (let i = 0; i < n; i++) {
      const level = levels[i] as number // within the column
      const place = (Math.log(level) - logLowest) * NODES_PER_UNIT
      levels[i] = place >= 0 && place < NODES - 1 ? between(nodes, place) : super.at(level)
    }
  }
}

/** Quintic Hermite polynomial between the nodes on either side of a place. */
function between(nodes: Float64Array, place: number): number {
  const node = Math.floor(place)
  const t = place - node
  const i = 3 * node
  const y0 = nodes[i] as number // within the table
  const d0 = nodes[i + 1] as number
  const c0 = nodes[i + 2] as number
  const y1 = nodes[i + 3] as number
  const d1 = nodes[i + 4] as number
  const c1 = nodes[i + 5] as number
  const rise = y1 - y0 - d0 - 0.5 * c0
  const slope = d1 - d0 - c0
  const bend = c1 - c0
  const a3 = 10 * rise - 4 * slope + 0.5 * bend
  const a4 = -15 * rise + 7 * slope - bend
  const a5 = 6 * rise - 3 * slope + 0.5 * bend
  return y0 + t * (d0 + t * (0.5 * c0 + t * (a3 + t * (a4 + t * a5))))
}

/** From the highest level down, each age by Newton steps from the one above; null where they do not converge. */
function tabulate(modes: readonly Mode[], logLowest: number, logOldest: number): Float64Array | null {
  const nodes = new Float64Array(3 * NODES)
  let logAge = logOldest
  let slope = 0
  for (let node = NODES - 1; node >= 0; node--) {
    const logLevel = logLowest + node / NODES_PER_UNIT
    if (node < NODES - 1) logAge -= slope / NODES_PER_UNIT
    let settled = false
    for (let step = 0; step < 30 && !settled; step++) {
      hazardTerms(modes, logAge, 0, terms)
      const hazard = terms[0] ?? 0
      const change = ((Math.log(hazard) - logLevel) * hazard) / (terms[1] ?? 0)
      if (!Number.isFinite(change)) return null
      logAge -= change
      settled = Math.abs(change) < 1e-8
    }
    if (!settled) return null
    hazardTerms(modes, logAge, 0, terms)
    slope = (terms[0] ?? 0) / (terms[1] ?? 1)
    // a' = H/S and a'' = a' − a'²·B/S for a = ln age by u = ln H, with S and B the derivatives of H by a
    const bend = slope - (slope * slope * (terms[2] ?? 0)) / (terms[1] ?? 1)
    const age = Math.exp(logAge)
    nodes[3 * node] = age
    nodes[3 * node + 1] = (age * slope) / NODES_PER_UNIT
    nodes[3 * node + 2] = (age * (slope * slope + bend)) / (NODES_PER_UNIT * NODES_PER_UNIT)
  }
  return nodes
}

function holds(nodes: Float64Array, modes: readonly Mode[], logLowest: number): boolean {
  for (let node = 0; node < NODES - 1; node++) {
    const logAge = Math.log(between(nodes, node + 0.5))
    hazardTerms(modes, logAge, 0, terms)
    const hazard = terms[0] ?? 0
    const off = ((Math.log(hazard) - logLowest - (node + 0.5) / NODES_PER_UNIT) * hazard) / (terms[1] ?? 0)
    if (!(Math.abs(off) < TOLERANCE)) return false
  }
  return true
}
