import { hitShare } from '../../history/first-failures.ts'
import type { DelayParameters, OptionParameters, UnitParameters } from '../../history/parameters.ts'
import { SCORE_90 } from '../../numerics/distributions/two-piece.ts'
import { cumulativeHazard } from '../../numerics/lives/competing-risks.ts'
import { expectedReplacements } from '../../numerics/renewal/age-replacement.ts'
import { type DelaySpread, downtimeNodes } from '../../numerics/renewal/downtime.ts'
import { type DelayNodes, expectedFailures } from '../../numerics/renewal/renewal.ts'
import { momentsOf, standardErrorOf } from '../../numerics/samples/moments.ts'
import { DAYS_PER_YEAR } from '../../units.ts'

/** What X1 can check of a population. */
export type Checkable = 'failures' | 'first failures' | 'none'

/** Exact expectations of one population in one parameter set (X1). */
export interface ExactCounts {
  /** Expected failures; null where they depend on other units or on repairs. */
  readonly failures: number | null
  /** Expected number of original units that fail at least once; null with 'none'. */
  readonly firstFailures: number | null
}

/**
 * What the self-check can say of a population (X1).
 *
 * @param parameters - the option
 * @param unit - the population
 */
export function checkable(parameters: OptionParameters, unit: UnitParameters): Checkable {
  const watched = parameters.monitoring === 'gateways' && !unit.isGateway
  const waits = parameters.visitPolicy !== null && unit.needsVisit
  const depends = watched || waits || unit.repairRule !== null
  if (!depends) return 'failures'
  return unit.replaceAtAgeYears === Infinity ? 'first failures' : 'none'
}

/**
 * Expected failures of a population without drawing a number: the renewal equation, downtime included (X1, N1).
 *
 * @param parameters - the option in one parameter set
 * @param unit - the population
 * @param batchChance - chance that a bad batch struck its model
 */
export function exactCounts(parameters: OptionParameters, unit: UnitParameters, batchChance: number): ExactCounts {
  const what = checkable(parameters, unit)
  if (what === 'none') return { failures: null, firstFailures: null }
  const { horizonYears } = parameters
  const first = firstFailureShare(unit, batchChance)
  const planned = unit.replaceAtAgeYears
  const dueAt = Math.max(0, planned - unit.ageYears)
  const firstFailures = unit.count * first(Math.min(horizonYears, dueAt))
  if (what === 'first failures') return { failures: null, firstFailures }
  const renewed = (years: number): number => -Math.expm1(-unit.multiplier * cumulativeHazard(unit.modes, years))
  const downtime = downtimeOf(parameters, unit)
  const each =
    planned === Infinity
      ? expectedFailures({ horizonYears, first, renewed, downtime }).byHorizon
      : expectedReplacements({
          horizonYears,
          first,
          renewed,
          downtime,
          replaceAtYears: planned,
          firstAgeYears: unit.ageYears,
          plannedDownYears: meanOf(downtimeNodes([spreadOf(unit.repair)], DAYS_PER_YEAR)),
        }).failures
  return { failures: unit.count * each, firstFailures }
}

/** Share of original units that fail by t, over units hit by a bad batch and units that are not (M2, M4). */
function firstFailureShare(unit: UnitParameters, batchChance: number): (years: number) => number {
  const failed = (years: number, lifeTimes: number): number => {
    const start = cumulativeHazard(unit.modes, unit.ageYears / lifeTimes)
    return -Math.expm1(-unit.multiplier * (cumulativeHazard(unit.modes, (unit.ageYears + years) / lifeTimes) - start))
  }
  const { batch } = unit
  if (batch === null || batchChance === 0) return years => failed(years, 1)
  const hit = batchChance * hitShare(unit, batch.affects, batch.lifeTimes, unit.ageYears)
  return years => hit * failed(years, batch.lifeTimes) + (1 - hit) * failed(years, 1)
}

function downtimeOf(parameters: OptionParameters, unit: UnitParameters): DelayNodes {
  const seen = unit.isGateway || parameters.monitoring === 'always'
  const detect = seen ? unit.detect : unit.detectUnmonitored
  return downtimeNodes([spreadOf(detect), spreadOf(unit.respond), spreadOf(unit.repair)], DAYS_PER_YEAR)
}

function spreadOf({ medianYears, factors }: DelayParameters): DelaySpread {
  return { medianDays: medianYears * DAYS_PER_YEAR, p90OverMedian: Math.exp((factors?.sigma ?? 0) * SCORE_90) }
}

function meanOf(nodes: DelayNodes): number {
  return nodes.nodesYears.reduce((sum, node, i) => sum + node * (nodes.weights[i] ?? 0), 0)
}

/**
 * Simulated counts of some parameter sets against their exact values (X1, N4).
 *
 * @param simulated - mean count of each set's draws
 * @param exact - exact expectation of each set
 * @returns mean of the exact values, mean of the simulated, and (simulated − exact) / standard error; null with error 0
 */
export function compareSets(
  simulated: readonly number[],
  exact: readonly number[],
): { exactMean: number; comparedMean: number; zScore: number | null } {
  const gaps = simulated.map((value, i) => value - (exact[i] ?? 0))
  const moments = momentsOf(gaps)
  const error = gaps.length < 2 ? 0 : standardErrorOf(moments)
  const exactMean = momentsOf(exact).mean
  return { exactMean, comparedMean: exactMean + moments.mean, zScore: error === 0 ? null : moments.mean / error }
}
