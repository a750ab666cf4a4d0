/**
 * Expected number of failures of a slot through all its replacements, without drawing a random number (X1).
 *
 * With F1 the distribution of the first failure and G that of downtime plus the life of a new unit, the expected number
 * M of failures solves M(t) = F1(t) + ∫ G(t−u) dM(u). M is taken as straight within a step and G by its exact mean over
 * the step, so that an infinite hazard at age 0 causes no error; the curvature of F1 within a step is corrected, and
 * the rest of the error, of the second order in the step, is removed by solving on two grids.
 *
 * @source W. SMITH (1958), "Renewal theory and its ramifications", J. R. Stat. Soc. B 20, 243–302 (the equation)
 * @source M. XIE (1989), "On the solution of renewal-type integral equations", Commun. Stat. Simul. 18, 281–293 (the idea to sum increments of M; recalled)
 * @source L. RICHARDSON (1911), Phil. Trans. R. Soc. A 210, 307–357 (two grids)
 */

import { type CdfTable, delayCdf, tabulateCdf } from './cdf-table.ts'

/** A delay as a few values with their probabilities. */
export interface DelayNodes {
  /** Years, >= 0. */
  readonly nodesYears: Float64Array
  /** Probabilities, as many, sum 1. */
  readonly weights: Float64Array
}

/** A slot whose failures are to be counted. */
export interface RenewalSlot {
  /** Years, > 0. */
  readonly horizonYears: number
  /** Share of slots whose first failure came by t years after the start; rising, 0 at 0. */
  readonly first: (years: number) => number
  /** Share of new units that fail by an age of t years; rising, 0 at 0. Pass the same function where both are alike. */
  readonly renewed: (years: number) => number
  /** From failure to return. */
  readonly downtime: DelayNodes
  /** Points of `cumulative` a year; default 4. At least 64 points are taken to the horizon. */
  readonly stepsPerYear?: number
}

/** Expected failures of one slot. */
export interface ExpectedFailures {
  /** In (0, horizon]. */
  readonly byHorizon: number
  /** In (0, i·stepYears], i = 0 … steps. */
  readonly cumulative: Float64Array
  /** Years between two points of `cumulative`: 1/stepsPerYear for a horizon of whole years. */
  readonly stepYears: number
}

const STEPS_PER_YEAR = 4
const LEAST_STEPS = 64

/**
 * Expected failures of one slot up to the horizon and up to each point before it (X1). M(t) = F1(t) + ∫ G(t−u) dM(u), G
 * = downtime + life of a new unit
 *
 * @param slot - see its fields
 * @returns counts; relative error under 3e-6 for shapes 0.6 to 20. Where a life is so steep that it ends within one
 * step (shape over 100 or so), `cumulative` oscillates within two steps of each jump and is right beyond them.
 * @throws RangeError unless the horizon is > 0
 * @example
 * expectedFailures({ horizonYears: 25, first: t => -Math.expm1(-t / 10), renewed: t => -Math.expm1(-t / 10), downtime: { nodesYears: Float64Array.of(0), weights: Float64Array.of(1) } }).byHorizon // 2.5
 */
export function expectedFailures(slot: RenewalSlot): ExpectedFailures {
  const { horizonYears, downtime } = slot
  if (!(horizonYears > 0)) throw new RangeError(`expectedFailures: the horizon must be > 0, got ${horizonYears}`)
  const steps = gridSteps(horizonYears, slot.stepsPerYear)
  const renewed = tabulateCdf(slot.renewed, horizonYears, 2 * steps)
  const first = slot.first === slot.renewed ? renewed : tabulateCdf(slot.first, horizonYears, 2 * steps)
  const cycle = delayCdf(renewed, downtime.nodesYears, downtime.weights)
  return extrapolate(solveRenewal(first, cycle, 2), solveRenewal(first, cycle, 1), horizonYears)
}

/** Number of points to the horizon: whole points a year, at least 64. */
function gridSteps(horizonYears: number, stepsPerYear: number = STEPS_PER_YEAR): number {
  const perYear = Math.max(stepsPerYear, Math.ceil(LEAST_STEPS / horizonYears))
  return Math.ceil(horizonYears * perYear - 1e-9)
}

/** The counts on the coarse grid with the error of second order removed. */
function extrapolate(coarse: Float64Array, fine: Float64Array, horizonYears: number): ExpectedFailures {
  const steps = coarse.length - 1
  const cumulative = coarse.map((value, i) => (4 * (fine[2 * i] ?? 0) - value) / 3)
  return { byHorizon: cumulative[steps] ?? 0, cumulative, stepYears: horizonYears / steps }
}

/** Solves M = F1 + ∫ G dM on every `stride`-th point of the tables (first: F1, cycle: G, on one grid). */
function solveRenewal(first: CdfTable, cycle: CdfTable, stride: number): Float64Array {
  const n = (first.shares.length - 1) / stride
  const step = first.stepYears * stride
  const bend = new Float64Array(n) // curvature of F1 within a step: ∫ (F1 − straight line)/step
  const firstGain = new Float64Array(n)
  const meanGain = new Float64Array(n) // growth of the mean of G from one step to the next
  const pointGain = new Float64Array(n) // growth of G over a step
  const second = new Float64Array(n) // of which the growth
  let meanBefore = 0
  for (let j = 0; j < n; j++) {
    const a = j * stride
    const b = a + stride
    const f0 = first.shares[a] ?? 0
    const f1 = first.shares[b] ?? 0
    firstGain[j] = f1 - f0
    bend[j] = ((first.areas[b] ?? 0) - (first.areas[a] ?? 0)) / step - (f0 + f1) / 2
    const mean = ((cycle.areas[b] ?? 0) - (cycle.areas[a] ?? 0)) / step
    meanGain[j] = mean - meanBefore
    meanBefore = mean
    pointGain[j] = (cycle.shares[b] ?? 0) - (cycle.shares[a] ?? 0)
    second[j] = pointGain[j] ?? 0
  }
  for (let j = n - 1; j > 0; j--) second[j] = (second[j] ?? 0) - (second[j - 1] ?? 0)

  const gain = new Float64Array(n)
  const cumulative = new Float64Array(n + 1)
  const own = 1 - (meanGain[0] ?? 0)
  for (let i = 0; i < n; i++) {
    let sum = firstGain[i] ?? 0
    for (let j = 0; j < i; j++) sum += (gain[j] ?? 0) * (meanGain[i - j] ?? 0)
    for (let j = 0; j <= i; j++) sum += (bend[j] ?? 0) * (second[i - j] ?? 0)
    const value = sum / own
    gain[i] = value
    cumulative[i + 1] = (cumulative[i] ?? 0) + value
  }
  return cumulative
}
