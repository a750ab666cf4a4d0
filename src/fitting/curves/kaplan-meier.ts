import { normalQuantile } from '../../numerics/special.ts'
import type { LifeRows } from '../rows.ts'

/** One age at which units failed, with all that was counted there. */
export interface SurvivalStep {
  readonly age: number
  /** Units watched and working just before; a unit that leaves at this age still counts. */
  readonly atRisk: number
  readonly failures: number
  /** Share still working just after, by the product of (1 − failures/atRisk) (Kaplan–Meier). */
  readonly survival: number
  /** Standard error of `survival` by Greenwood's formula; null after the last unit failed. */
  readonly standardError: number | null
  /** Sum of failures/atRisk (Nelson–Aalen). */
  readonly cumulativeHazard: number
  /** √Σ failures/atRisk². */
  readonly cumulativeHazardError: number
}

/**
 * The share of units still working at each age of failure, without any model; and the cumulative hazard. Late-watched
 * units count from the age they were first watched.
 *
 * @param rows - the records; failures between two ages are not allowed (see turnbull.ts)
 * @returns one step an age of failure, in rising order
 * @source Kaplan & Meier (1958), J. Amer. Statist. Assoc. 53, 457–481; Greenwood (1926); Nelson (1969); Aalen (1978)
 *   (recalled)
 */
export function kaplanMeier(rows: LifeRows): SurvivalStep[] {
  const steps: SurvivalStep[] = []
  let survival = 1
  let greenwood = 0
  let hazard = 0
  let hazardVariance = 0
  for (const { age, atRisk, failures } of riskTable(rows)) {
    survival *= (atRisk - failures) / atRisk
    greenwood += failures / (atRisk * (atRisk - failures))
    hazard += failures / atRisk
    hazardVariance += failures / (atRisk * atRisk)
    steps.push({
      age,
      atRisk,
      failures,
      survival,
      standardError: atRisk === failures ? null : survival * Math.sqrt(greenwood),
      cumulativeHazard: hazard,
      cumulativeHazardError: Math.sqrt(hazardVariance),
    })
  }
  return steps
}

/** Units at risk and failures at one age. */
export interface RiskRow {
  readonly age: number
  readonly atRisk: number
  readonly failures: number
}

/**
 * Units at risk at each age of failure.
 *
 * @param rows - the records; failures between two ages are left out
 * @returns one row an age of failure, in rising order; ages that no unit was watched at are left out
 */
export function riskTable(rows: LifeRows): RiskRow[] {
  const n = rows.counts.length
  const byEnd = orderBy(rows.afterAges)
  const byStart = orderBy(rows.startAges)
  const table: RiskRow[] = []
  let entered = 0
  let left = 0
  let nextStart = 0
  let atEnd = 0
  while (atEnd < n) {
    const age = rows.afterAges[byEnd[atEnd] ?? 0] ?? 0
    let leaving = 0
    let failures = 0
    for (; atEnd < n; atEnd++) {
      const row = byEnd[atEnd] ?? 0
      if (rows.afterAges[row] !== age) break
      leaving += rows.counts[row] ?? 0
      if (rows.beforeAges[row] === age) failures += rows.counts[row] ?? 0
    }
    // Watched from an age means at risk after it, not at it.
    for (; nextStart < n; nextStart++) {
      const row = byStart[nextStart] ?? 0
      if ((rows.startAges[row] ?? 0) >= age) break
      entered += rows.counts[row] ?? 0
    }
    const atRisk = entered - left
    if (failures > 0 && atRisk > 0) table.push({ age, atRisk, failures })
    // A unit watched for no time at all (start = end) has not entered yet; it is taken off when it would.
    left += leaving
  }
  return table
}

/**
 * Limits of a survival share that stay inside 0 and 1: Greenwood's error, symmetric on ln(−ln S).
 * S^exp(±z·error/(S·|ln S|))
 *
 * @param survival - share, [0, 1]
 * @param standardError - of the share; null where none is known
 * @param confidence - (0, 1)
 * @returns lower and upper limit; nulls at shares 0 and 1 and without an error
 * @source Kalbfleisch & Prentice (1980), The Statistical Analysis of Failure Time Data (recalled); held against a published
 *   survival package in the tests
 * @example survivalLimits(0.98571, 0.014184, 0.95) // [0.9033, 0.99798]
 */
export function survivalLimits(
  survival: number,
  standardError: number | null,
  confidence: number,
): readonly [low: number | null, high: number | null] {
  if (standardError === null || survival <= 0 || survival >= 1) return [null, null]
  const logSurvival = Math.log(survival)
  const spread = (normalQuantile(0.5 + confidence / 2) * standardError) / (survival * Math.abs(logSurvival))
  return [Math.exp(logSurvival * Math.exp(spread)), Math.exp(logSurvival * Math.exp(-spread))]
}

function orderBy(values: Float64Array): Uint32Array {
  const order = Uint32Array.from(values, (_, i) => i)
  return order.sort((a, b) => (values[a] ?? 0) - (values[b] ?? 0))
}
