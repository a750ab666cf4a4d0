/**
 * A distribution of a life laid out on an even grid, with the area under it: what a renewal equation needs of it.
 */

import { power, square } from '../power.ts'

/** A distribution function F and its integral on the grid 0, step, 2·step, … */
export interface CdfTable {
  /** Grid step, years. */
  readonly stepYears: number
  /** F at the grid points, steps + 1 values. */
  readonly shares: Float64Array
  /** Integral of F from 0 to the grid point, years, steps + 1 values. */
  readonly areas: Float64Array
  /** F at stepYears·2^−k, k = 0, 1, …: a life with early failures bends sharply inside the first step. */
  readonly startShares: Float64Array
}

/** Halvings of the first step. Ours: F(step·2^−20) is below 1e-3 of F(step) for any shape over 0.5. */
const HALVINGS = 20

/**
 * Tabulates a distribution function on an even grid.
 *
 * @param cdf - F(t), rising, F(0) = 0; t in years
 * @param horizonYears - > 0
 * @param steps - number of steps to the horizon, >= 1
 * @returns the table
 */
export function tabulateCdf(cdf: (years: number) => number, horizonYears: number, steps: number): CdfTable {
  const stepYears = horizonYears / steps
  const startShares = new Float64Array(HALVINGS + 1)
  for (let k = 0; k <= HALVINGS; k++) startShares[k] = cdf(stepYears * power(2, -k))
  const shares = new Float64Array(steps + 1)
  const areas = new Float64Array(steps + 1)
  let before = startShares[0] ?? 0
  shares[1] = before
  let area = startArea(stepYears, startShares)
  areas[1] = area
  for (let i = 2; i <= steps; i++) {
    const share = cdf(i * stepYears)
    area += (stepYears / 6) * (before + 4 * cdf((i - 0.5) * stepYears) + share) // Simpson
    shares[i] = share
    areas[i] = area
    before = share
  }
  return { stepYears, shares, areas, startShares }
}

/**
 * Mean over a delay of a table: F and its integral at the grid points, each moved later by the delay.
 *
 * @param table - of a life
 * @param nodesYears - delays, >= 0
 * @param weights - their probabilities, as many, sum 1
 * @returns table of life plus delay (its `startShares` are those of the life without delay and must not be used)
 */
export function delayCdf(table: CdfTable, nodesYears: ArrayLike<number>, weights: ArrayLike<number>): CdfTable {
  const { stepYears } = table
  const n = table.shares.length
  const shares = new Float64Array(n)
  const areas = new Float64Array(n)
  for (let node = 0; node < nodesYears.length; node++) {
    const delay = (nodesYears[node] ?? 0) / stepYears
    const whole = Math.ceil(delay)
    if (whole >= n) continue
    addMoved(table, whole, whole - delay, weights[node] ?? 0, shares, areas)
  }
  return { stepYears, shares, areas, startShares: table.startShares }
}

/** Adds weight × the table moved later by `whole` − `part` steps, 0 <= part < 1. */
function addMoved(
  table: CdfTable,
  whole: number,
  part: number,
  weight: number,
  shares: Float64Array,
  areas: Float64Array,
): void {
  const { stepYears, shares: f, areas: a } = table
  const n = f.length
  if (part === 0) {
    for (let i = whole; i < n; i++) {
      shares[i] = (shares[i] ?? 0) + weight * (f[i - whole] ?? 0)
      areas[i] = (areas[i] ?? 0) + weight * (a[i - whole] ?? 0)
    }
    return
  }
  const start = startAt(table, part)
  shares[whole] = (shares[whole] ?? 0) + weight * start.share
  areas[whole] = (areas[whole] ?? 0) + weight * start.area
  // Cubic Hermite: the slope of the integral is F itself; its derivative gives F between the points.
  const p = part
  const a0 = weight * (1 + 2 * p) * square(1 - p)
  const a1 = weight * p * p * (3 - 2 * p)
  const f0 = weight * stepYears * p * square(1 - p)
  const f1 = weight * stepYears * p * p * (p - 1)
  const da = (weight * 6 * p * (1 - p)) / stepYears
  const df0 = weight * (1 - p) * (1 - 3 * p)
  const df1 = weight * p * (3 * p - 2)
  let area = a[1] ?? 0
  let share = f[1] ?? 0
  for (let i = whole + 1; i < n; i++) {
    const nextArea = a[i - whole + 1] ?? endArea(table)
    const nextShare = f[i - whole + 1] ?? share
    areas[i] = (areas[i] ?? 0) + a0 * area + a1 * nextArea + f0 * share + f1 * nextShare
    shares[i] = (shares[i] ?? 0) + da * (nextArea - area) + df0 * share + df1 * nextShare
    area = nextArea
    share = nextShare
  }
}

/** The integral one step past the grid; never read with weight: the last moved point lies inside it. */
function endArea(table: CdfTable): number {
  const last = table.shares.length - 1
  return (table.areas[last] ?? 0) + table.stepYears * (table.shares[last] ?? 0)
}

/** F and its integral inside the first step, at `part` of it; between the halvings F is a power of t. */
function startAt(table: CdfTable, part: number): { share: number; area: number } {
  const { stepYears, startShares } = table
  let k = 0
  while (k < HALVINGS && power(2, -(k + 1)) >= part) k++
  const upper = stepYears * power(2, -k)
  const upperShare = startShares[k] ?? 0
  const slope = powerAt(startShares, k)
  const share = upperShare * power((part * stepYears) / upper, slope)
  let area = (part * stepYears * share) / (slope + 1)
  if (k < HALVINGS) {
    // From the lower halving up, plus all below it.
    const lower = upper / 2
    area += belowArea(stepYears, startShares, k + 1) - (lower * (startShares[k + 1] ?? 0)) / (slope + 1)
  }
  return { share, area }
}

/** Integral of F over the whole first step. */
function startArea(stepYears: number, startShares: Float64Array): number {
  return belowArea(stepYears, startShares, 0)
}

/** Integral of F from 0 to step·2^−k, power by power. */
function belowArea(stepYears: number, startShares: Float64Array, k: number): number {
  const last = stepYears * power(2, -HALVINGS)
  let area = (last * (startShares[HALVINGS] ?? 0)) / (powerAt(startShares, HALVINGS) + 1)
  for (let j = HALVINGS - 1; j >= k; j--) {
    const upper = stepYears * power(2, -j)
    const gained = upper * (startShares[j] ?? 0) - (upper / 2) * (startShares[j + 1] ?? 0)
    area += gained / (powerAt(startShares, j) + 1)
  }
  return area
}

/** Local power of F between the halvings k + 1 and k; below the last halving that of the last piece. */
function powerAt(startShares: Float64Array, k: number): number {
  const j = Math.min(k, HALVINGS - 1)
  const upper = startShares[j] ?? 0
  const lower = startShares[j + 1] ?? 0
  // So steep that the lower value underflows: F is close to 0 there, and so is a high power.
  return lower > 0 && upper > lower ? Math.log2(upper / lower) : upper > 0 ? 60 : 1
}
