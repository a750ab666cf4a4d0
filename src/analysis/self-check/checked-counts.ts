import type { OptionPlan } from '../../simulation/option-plan.ts'
import {
  DRAWS_PER_BLOCK,
  DRAWS_PER_SET,
  type ParameterSet,
  type ParameterSets,
} from '../../simulation/parameter-sets.ts'
import type { OptionRun } from '../option/option-run.ts'
import type { CheckedCount, PopulationResult } from '../results/option.ts'
import type { Estimate } from '../results/spread.ts'
import { checkable, compareSets, exactCounts } from './exact-failures.ts'

/** Parameter sets of the self-check (X1). */
const CHECKED_SETS = 40

/** A parameter set that is checked, and its index in the run. */
export interface CheckedSet {
  readonly index: number
  readonly set: ParameterSet
}

/** A population's result with the exact values behind it. */
export interface CheckedPopulation {
  readonly result: PopulationResult
  /** By checked set; null where there is no exact value. */
  readonly exactFailures: readonly number[] | null
}

/**
 * Evenly chosen parameter sets; all of them where there are fewer (X1).
 *
 * @param sets - of the run
 * @param count - how many are played
 * @returns 40 at most
 */
export function checkedSets(sets: ParameterSets, count: number): CheckedSet[] {
  const perBlock = DRAWS_PER_BLOCK / DRAWS_PER_SET
  const chosen = Math.min(CHECKED_SETS, count)
  return Array.from({ length: chosen }, (_, i): CheckedSet => {
    const index = Math.floor(((i + 0.5) * count) / chosen)
    const block = Math.floor(index / perBlock)
    const set = sets.ofBlock(block, perBlock)[sets.vary ? index % perBlock : 0]
    if (set === undefined) throw new RangeError(`no parameter set ${index}`)
    return { index, set }
  })
}

/**
 * The results of every population of an option, with the self-check (X1).
 *
 * @param plan - the option
 * @param run - its draws
 * @param checked - the parameter sets of the self-check
 */
export function populationResults(
  plan: OptionPlan,
  run: OptionRun,
  checked: readonly CheckedSet[],
): CheckedPopulation[] {
  const sets = checked.map(({ set }) => plan.at(set))
  return plan.option.populations.map((population, i): CheckedPopulation => {
    const { layout } = run
    const exact = sets.map(({ parameters, models }) => {
      const unit = parameters.units[i]
      const batch = models[population.model]?.batchChance ?? 0
      return unit === undefined ? { failures: null, firstFailures: null } : exactCounts(parameters, unit, batch)
    })
    const exactFailures = allNumbers(exact.map(counts => counts.failures))
    const exactFirst = allNumbers(exact.map(counts => counts.firstFailures))
    const [first] = sets
    const unit = first?.parameters.units[i]
    const failuresAt = layout.ofPopulation(i, 'failures')
    const firstAt = layout.ofPopulation(i, 'firstFailures')
    return {
      exactFailures,
      result: {
        kind: population.kind,
        tier: population.tier,
        count: population.count,
        checked: first !== undefined && unit !== undefined ? checkable(first.parameters, unit) : 'none',
        failures: checkedCount(run, failuresAt, exactFailures, checked),
        firstFailures: checkedCount(run, firstAt, exactFirst, checked),
        laterLives: null,
        plannedReplacements: { mean: run.mean(layout.ofPopulation(i, 'plannedReplacements')) },
      },
    }
  })
}

/**
 * Failures of the whole option (X1): its exact mean is the sum if every population has one.
 *
 * @param run - the draws
 * @param populations - from `populationResults`
 * @param checked - the parameter sets of the self-check
 */
export function wholeOption(
  run: OptionRun,
  populations: readonly CheckedPopulation[],
  checked: readonly CheckedSet[],
): CheckedCount {
  const columns = populations.map(({ exactFailures }) => exactFailures)
  const known = columns.flatMap(column => (column === null ? [] : [column]))
  const exact =
    known.length === columns.length
      ? checked.map((_, i) => known.reduce((sum, column) => sum + (column[i] ?? 0), 0))
      : null
  return checkedCount(run, run.layout.of('failures'), exact, checked)
}

function checkedCount(
  run: OptionRun,
  place: number,
  exact: readonly number[] | null,
  checked: readonly CheckedSet[],
): CheckedCount {
  const estimate: Estimate = run.estimate(place)
  if (exact === null) return { ...estimate, exactMean: null, comparedMean: null, zScore: null }
  if (run.oneSet) {
    const exactMean = exact[0] ?? 0
    const { mean, standardError } = estimate
    return {
      ...estimate,
      exactMean,
      comparedMean: mean,
      zScore: standardError === 0 ? null : (mean - exactMean) / standardError,
    }
  }
  const sums = run.setSums(place)
  const drawsPerSet = run.draws.draws / run.sets
  const simulated = checked.map(({ index }) => (sums[index] ?? 0) / drawsPerSet)
  return { ...estimate, ...compareSets(simulated, exact) }
}

function allNumbers(values: readonly (number | null)[]): number[] | null {
  const numbers = values.flatMap(value => (value === null ? [] : [value]))
  return numbers.length === values.length ? numbers : null
}
