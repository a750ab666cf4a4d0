import { optionParameters, unitParameters } from '../../history/parameters.ts'
import { momentsOf } from '../../numerics/samples/moments.ts'
import type { Prepared } from '../../simulation/run.ts'
import { isCentralInverter } from '../../topologies/kinds.ts'
import { pairedMean } from '../comparison/comparison.ts'
import type { OptionResult } from '../results/option.ts'
import { policyCosts } from './policy-costs.ts'

/**
 * Cost of an option against the age at which its first string-type inverter is replaced as planned (M6), with
 * straight-line residual value on (C6).
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param draws - draws of the run; as many are used as `policyCosts` takes
 * @param drawsPerSet - draws that share a parameter set
 * @returns null where the option has no string-type inverter, or none that reaches an age to try before the horizon
 */
export function replacementAge(
  prepared: Prepared,
  option: number,
  draws: number,
  drawsPerSet: number,
): OptionResult['replacementAge'] {
  const { scenario } = prepared
  const inverter = scenario.options[option]?.populations.find(({ kind }) => isCentralInverter(kind))
  const coarseAges = inverter === undefined ? [] : agesToTry(inverter.ageYears, scenario.horizonYears)
  if (inverter === undefined || coarseAges.length === 0) return null
  const policies = policyCosts(prepared, option, draws)
  const used = policies.draws
  const perSet = Math.min(drawsPerSet, used)
  const costsAt = (age: number): Float64Array =>
    policies.under(parameters => {
      const units = parameters.units.map(unit =>
        unit.place === inverter.place ? unitParameters({ ...unit, replaceAtAgeYears: age }) : unit,
      )
      return optionParameters({ ...parameters, units })
    })
  const toFailure = costsAt(Infinity)
  const tried = new Map<number, Float64Array>()
  for (const age of coarseAges) tried.set(age, costsAt(age))
  // a finer grid around the best of the coarse ages, where one of them saves anything
  const coarse = pairedMean(toFailure, perSet).mean > leastOf(tried) ? lowest(tried) : null
  if (coarse !== null) {
    for (const age of [coarse - 2, coarse - 1, coarse + 1, coarse + 2]) {
      if (age >= 1 && !tried.has(age) && age - inverter.ageYears < scenario.horizonYears) tried.set(age, costsAt(age))
    }
  }
  const ages = [...tried.keys()].sort((a, b) => a - b)
  const runToFailureCost = pairedMean(toFailure, perSet).mean
  const best = lowest(tried)
  const bestCosts = best === null ? null : (tried.get(best) ?? null)
  const saving =
    bestCosts === null
      ? { mean: 0, standardError: 0 }
      : pairedMean(
          toFailure.map((cost, draw) => cost - (bestCosts[draw] ?? 0)),
          perSet,
        )
  const pays = saving.mean > 2 * saving.standardError && saving.mean > 0
  return {
    component: inverter.kind,
    ages,
    cost: ages.map(age => pairedMean(tried.get(age) ?? toFailure, perSet).mean),
    runToFailureCost,
    best: pays ? best : null,
    gain: pays ? saving.mean : 0,
    standardError: saving.standardError,
    draws: used,
  }
}

/** Every third year from 4 to the last age that is reached before the horizon. */
function agesToTry(ageYears: number, horizonYears: number): number[] {
  const first = Math.max(4, Math.ceil(ageYears) + 1)
  const ages: number[] = []
  for (let age = first; age - ageYears < horizonYears; age += 3) ages.push(age)
  return ages
}

function lowest(costs: ReadonlyMap<number, Float64Array>): number | null {
  const least = leastOf(costs)
  return [...costs].find(([, values]) => meanOf(values) === least)?.[0] ?? null
}

function leastOf(costs: ReadonlyMap<number, Float64Array>): number {
  return Math.min(...[...costs.values()].map(meanOf))
}

function meanOf(values: Float64Array): number {
  return momentsOf(values).mean
}
