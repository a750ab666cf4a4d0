import type { OptionPlan } from '../simulation/option-plan.ts'
import type { ParameterSet } from '../simulation/parameter-sets.ts'
import { checkable, compareSets, exactCounts } from './exact-failures.ts'
import type { OptionRun } from './option-run.ts'
import type { CheckedCount, Estimate, PopulationResult } from './results.ts'

/** A parameter set and the draws that lived in it. */
export interface CheckedSet {
  readonly index: number
  readonly set: ParameterSet
}

/** A population's result with the exact values behind it. */
export interface CheckedPopulation {
  readonly result: PopulationResult
  /** By checked set; null where the failures cannot be had exactly. */
  readonly exactFailures: readonly number[] | null
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
    const exact = sets.map(({ truth, models }) => {
      const unit = truth.units[i]
      const batch = models[population.model]?.batchChance ?? 0
      return unit === undefined ? { failures: null, firstFailures: null } : exactCounts(truth, unit, batch)
    })
    const exactFailures = allNumbers(exact.map(counts => counts.failures))
    const exactFirst = allNumbers(exact.map(counts => counts.firstFailures))
    const [first] = sets
    const unit = first?.truth.units[i]
    const failuresAt = layout.ofPopulation(i, 'failures')
    const firstAt = layout.ofPopulation(i, 'firstFailures')
    return {
      exactFailures,
      result: {
        kind: population.kind,
        tier: population.tier,
        count: population.count,
        checked: first !== undefined && unit !== undefined ? checkable(first.truth, unit) : 'none',
        failures: checkedCount(run, failuresAt, exactFailures, checked),
        firstFailures: checkedCount(run, firstAt, exactFirst, checked),
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
