import { betweenRanks } from './quantile.ts'
import { atRanks, wantedCells } from './ranks.ts'

/** Equal cells from 0 to the largest sum. Ours. */
const CELLS = 4096
/** Added to every place, in cells: only sums of 0, and those under 1e-6 of a cell, stay in the first cell. */
const LIFT = 1 - 1e-6

/**
 * Sums that grow, and their quantiles at any time: each sum is in a cell, growth moves it to another, and only the
 * cells in which a wanted place lies are sorted. Exact, as `quantiles` is.
 */
export class RunningSums {
  /** The sums, from 0. */
  readonly sums: Float64Array
  readonly #cells: Uint16Array
  readonly #counts = new Int32Array(CELLS + 1)
  readonly #places = new Int32Array(CELLS + 1)
  readonly #perUnit: number
  /** No sum above 0 is in the first cell. */
  #firstIsZero = true

  /**
   * @param n - how many, at least 1
   * @param largest - about as large as any will be
   */
  constructor(n: number, largest: number) {
    this.sums = new Float64Array(n)
    this.#cells = new Uint16Array(n)
    this.#counts[0] = n
    this.#perUnit = largest > 1e-300 ? CELLS / largest : 0
  }

  /**
   * Lets some sums grow.
   *
   * @param at - which ones, less `first`
   * @param first - the one that place 0 means
   * @param amounts - by how much, each times `factor`
   * @param factor - of all
   * @param from - first entry of `at` and `amounts`
   * @param to - entry after the last
   */
  grow(at: Uint16Array, first: number, amounts: Float64Array, factor: number, from: number, to: number): void {
    const { sums } = this
    const cells = this.#cells
    const counts = this.#counts
    const perUnit = this.#perUnit
    for (let i = from; i < to; i++) {
      const which = first + (at[i] as number) // every entry names a sum, every sum has a cell
      const sum = (sums[which] as number) + factor * (amounts[i] as number)
      sums[which] = sum
      const cell = cellOf(sum, perUnit)
      const before = cells[which] as number
      if (cell === before) {
        if (cell === 0 && sum !== 0) this.#firstIsZero = false
        continue
      }
      cells[which] = cell
      counts[before] = (counts[before] as number) - 1
      counts[cell] = (counts[cell] as number) + 1
      if (cell === 0) this.#firstIsZero = false
    }
  }

  /**
   * Lets every sum grow by an amount of its own.
   *
   * @param amounts - one a sum, each times `factor`
   * @param factor - of all
   */
  growAll(amounts: Float64Array, factor: number): void {
    const { sums } = this
    const cells = this.#cells
    const counts = this.#counts.fill(0)
    this.#firstIsZero = false
    for (let which = 0; which < sums.length; which++) {
      const sum = (sums[which] as number) + factor * (amounts[which] as number) // alike in length
      sums[which] = sum
      const cell = cellOf(sum, this.#perUnit)
      cells[which] = cell
      counts[cell] = (counts[cell] as number) + 1
    }
  }

  /**
   * Quantiles of the sums as they are.
   *
   * @param ps - shares, [0, 1], in any order
   * @returns one quantile a share
   */
  quantiles(ps: readonly number[]): number[] {
    return betweenRanks(this.sums.length, ps, ranks => this.#atRanks(ranks))
  }

  #atRanks(ranks: readonly number[]): number[] {
    const places = this.#places.fill(-1)
    let next = 0
    const zeros: number[] = []
    if (this.#firstIsZero) while ((ranks[next] ?? Infinity) < (this.#counts[0] as number)) next = zeros.push(0)
    const { cells, room } = wantedCells(this.#counts, ranks, next, places)
    if (room === 0) return zeros
    const gathered = gather(this.sums, this.#cells, places, room)
    return zeros.concat(cells.flatMap(({ from, to, ranks: own }) => atRanks(gathered.subarray(from, to), own)))
  }
}

/** Cells rise with the sum; the last holds everything above the stated largest sum. */
function cellOf(sum: number, perUnit: number): number {
  return Math.max(0, Math.min(sum * perUnit + LIFT, CELLS)) | 0
}

function gather(sums: Float64Array, cells: Uint16Array, places: Int32Array, n: number): Float64Array {
  const gathered = new Float64Array(n)
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i] as number // every sum has one
    const place = places[cell] as number
    if (place < 0) continue
    gathered[place] = sums[i] as number
    places[cell] = place + 1
  }
  return gathered
}
