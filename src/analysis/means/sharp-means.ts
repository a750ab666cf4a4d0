import { momentsOf, standardErrorOf } from '../../numerics/samples/moments.ts'
import { DRAWS_PER_SET } from '../../simulation/parameter-sets.ts'
import { errorOfSetSums } from './set-sums-error.ts'

/** A control of whose variance the others leave less than this share unexplained is left out. */
const LEAST_LEFT = 1e-8
/** A control whose variance is less than this share of its mean square is constant but for rounding, and left out. */
const LEAST_VARIED = 1e-10

/**
 * Rows of controls, one a set of draws, with the sums that a regression on them needs; rows are added block after block
 * (X3).
 */
export class ControlRows {
  readonly columns: number
  readonly blocks: Float64Array[] = []
  sets = 0
  readonly #sums: Float64Array
  /** Sums of products, columns × columns; the lower half is filled. */
  readonly #products: Float64Array

  /** @param columns - controls in a row */
  constructor(columns: number) {
    this.columns = columns
    this.#sums = new Float64Array(columns)
    this.#products = new Float64Array(columns * columns)
  }

  /**
   * Adds the rows of a block.
   *
   * @param rows - row-major
   */
  add(rows: Float64Array): void {
    const { columns } = this
    for (let from = 0; from < rows.length; from += columns) {
      for (let i = 0; i < columns; i++) {
        const value = rows[from + i] as number // within the row
        if (value === 0) continue
        this.#sums[i] = (this.#sums[i] as number) + value
        for (let j = 0; j <= i; j++) {
          const place = i * columns + j
          this.#products[place] = (this.#products[place] as number) + value * (rows[from + j] as number)
        }
      }
    }
    this.blocks.push(rows)
    this.sets += rows.length / columns
  }

  /** Mean of a control over the sets. */
  mean(control: number): number {
    return (this.#sums[control] ?? 0) / this.sets
  }

  /** Whether a control differs between sets: that of a batch which struck nothing does not. */
  varies(control: number): boolean {
    return this.product(control, control) > LEAST_VARIED * (this.#products[control * this.columns + control] ?? 0)
  }

  /** Sum over the sets of the product of two controls, each less its mean. */
  product(one: number, other: number): number {
    const [i, j] = one > other ? [one, other] : [other, one]
    return (this.#products[i * this.columns + j] ?? 0) - (this.#sums[i] ?? 0) * this.mean(j)
  }
}

/**
 * Means sharpened by controls whose mean is known to be 0 (X3). Each set of draws gets a weight such that the weighted
 * mean of every control is 0; the weights are nearly equal. The weights are the same for every figure, so that parts
 * still add up to their sum. This is a regression on the controls, mean(Y) − β·mean(C), with β from all sets.
 *
 * @source regression-adjusted control variates: S. LAVENBERG, P. WELCH (1981), Management Science 27 (recalled)
 */
export class SharpMeans {
  /** By set; their sum is 1. */
  readonly weights: Float64Array
  readonly #rows: ControlRows
  /** Controls that are used, and their means. */
  readonly #used: readonly number[]
  readonly #means: Float64Array
  /** Lower triangle L of their sums of products, L·Lᵀ, row by row. */
  readonly #lower: readonly Float64Array[]

  private constructor(rows: ControlRows, used: readonly number[], lower: readonly Float64Array[]) {
    this.#rows = rows
    this.#used = used
    this.#lower = lower
    this.#means = Float64Array.from(used, control => rows.mean(control))
    const { sets } = rows
    const slopes = solveBy(lower, this.#means)
    const offset = dot(slopes, this.#means)
    this.weights = new Float64Array(sets)
    this.#eachSet((set, values) => {
      this.weights[set] = 1 / sets + offset - dot(slopes, values)
    })
  }

  /**
   * Weights from the controls, from as many of the first as leave no weight below 0, which a mean of costs does not
   * allow: with few sets the last controls are left out.
   *
   * @param rows - controls of every set
   * @param wanted - which controls, in order
   * @param most - how many at most
   * @returns null where not even the first can be used
   */
  static positive(rows: ControlRows, wanted: readonly number[], most: number): SharpMeans | null {
    for (let n = Math.min(wanted.length, Math.floor(most)); n > 0; n = Math.floor(0.95 * n)) {
      const sharp = SharpMeans.of(rows, wanted.slice(0, n))
      if (sharp !== null) return sharp
    }
    return null
  }

  /**
   * Weights from the controls.
   *
   * @param rows - controls of every set
   * @param wanted - which controls, in order; a combination of earlier ones is left out
   * @returns null where a weight is below 0, which a mean of costs does not allow
   */
  static of(rows: ControlRows, wanted: readonly number[]): SharpMeans | null {
    const used: number[] = []
    const lower: Float64Array[] = []
    for (const control of wanted.filter(control => rows.varies(control))) {
      const row = new Float64Array(used.length + 1)
      let left = rows.product(control, control)
      const before = left
      used.forEach((other, i) => {
        const known = lower[i]
        if (known === undefined) return
        let value = rows.product(control, other)
        for (let j = 0; j < i; j++) value -= (row[j] as number) * (known[j] as number) // within the triangle
        value /= known[i] as number
        row[i] = value
        left -= value * value
      })
      if (!(left > LEAST_LEFT * before)) continue
      row[used.length] = Math.sqrt(left)
      used.push(control)
      lower.push(row)
    }
    const sharp = new SharpMeans(rows, used, lower)
    return sharp.weights.every(weight => weight >= 0) ? sharp : null
  }

  /**
   * Mean of a figure over all draws.
   *
   * @param sums - of it, by set of 20 draws
   */
  mean(sums: Float64Array): number {
    return dot(this.weights, sums) / DRAWS_PER_SET
  }

  /** Mean of a figure whose rows are single draws. */
  meanOfDraws(values: Float64Array): number {
    return dot(this.weights, values)
  }

  /** Residuals of a figure: its sums by set less what the controls explain. */
  #residuals(sums: Float64Array): Float64Array {
    const together = new Float64Array(this.#used.length)
    const mean = momentsOf(sums).mean
    this.#eachSet((set, values) => {
      const off = (sums[set] as number) - mean // every set has its entry
      for (let i = 0; i < values.length; i++) together[i] = (together[i] as number) + off * (values[i] as number)
    })
    const slopes = solveBy(this.#lower, together)
    const left = sums.slice()
    this.#eachSet((set, values) => {
      left[set] = (left[set] as number) - dot(slopes, values)
    })
    return left
  }

  /**
   * A figure with its sharpened mean and standard error.
   *
   * @param sums - of it, by set of 20 draws
   * @param oneSet - nothing is unknown: sets differ by chance alone
   */
  figure(sums: Float64Array, oneSet: boolean): SharpFigure {
    const { sets } = this.#rows
    const left = this.weights.length - this.#used.length
    const spent = Math.sqrt(((sets - 1) * (sets - 2)) / ((left - 1) * (left - 2)))
    return new SharpFigure(this.mean(sums), this.#residuals(sums), spent, oneSet)
  }

  /** Walks through the sets with the controls that are used; the array is reused. */
  #eachSet(each: (set: number, values: Float64Array) => void): void {
    const { blocks, columns } = this.#rows
    const values = new Float64Array(this.#used.length)
    let set = 0
    for (const rows of blocks) {
      for (let from = 0; from < rows.length && set < this.weights.length; from += columns) {
        for (let i = 0; i < values.length; i++) values[i] = rows[from + (this.#used[i] as number)] as number // within
        each(set++, values)
      }
    }
  }
}

/** A sharpened mean with the residuals that its error and differences from it need (X2, X3). */
export class SharpFigure {
  readonly mean: number
  /** Sums by set less what the controls explain. */
  readonly #residuals: Float64Array
  /** Factor on the error for the k coefficients estimated, √((n−1)(n−2)/((n−k−1)(n−k−2))). */
  readonly #spent: number
  readonly #oneSet: boolean

  /**
   * @param mean - sharpened
   * @param residuals - by set of 20 draws, with that mean
   * @param spent - factor on the error, >= 1
   * @param oneSet - nothing is unknown: sets differ by chance alone
   * @source LAVENBERG & WELCH (1981), as above, the loss factor (recalled)
   */
  constructor(mean: number, residuals: Float64Array, spent: number, oneSet: boolean) {
    this.mean = mean
    this.#residuals = residuals
    this.#spent = spent
    this.#oneSet = oneSet
  }

  /** Standard error of the mean; 0 for a figure that never varies. */
  get standardError(): number {
    const moments = momentsOf(this.#residuals)
    // the residuals of a figure that never varies are rounding
    if (moments.squares <= 1e-18 * moments.count * moments.mean * moments.mean) return 0
    const plain = this.#oneSet
      ? standardErrorOf(moments) / DRAWS_PER_SET
      : errorOfSetSums(this.#residuals, moments.count * DRAWS_PER_SET)
    return this.#spent * plain
  }

  /**
   * This figure less the same one of another option.
   *
   * @param other - of as many sets
   */
  less(other: SharpFigure): SharpFigure {
    const residuals = this.#residuals.map((value, set) => value - (other.#residuals[set] ?? 0))
    return new SharpFigure(this.mean - other.mean, residuals, Math.max(this.#spent, other.#spent), this.#oneSet)
  }
}

/** The solution x of L·Lᵀ·x = right. */
function solveBy(lower: readonly Float64Array[], right: Float64Array): Float64Array {
  const x = right.slice()
  lower.forEach((row, i) => {
    let value = x[i] as number // L is as long as the right side
    for (let j = 0; j < i; j++) value -= (row[j] as number) * (x[j] as number)
    x[i] = value / (row[i] as number)
  })
  for (let i = x.length - 1; i >= 0; i--) {
    let value = x[i] as number
    for (let j = i + 1; j < x.length; j++) value -= (lower[j]?.[i] as number) * (x[j] as number)
    x[i] = value / (lower[i]?.[i] as number)
  }
  return x
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0
  for (let i = 0; i < one.length; i++) sum += (one[i] as number) * (other[i] as number) // of one length
  return sum
}
