import type { OptionTruth } from '../../history/unit-truth.ts'
import { PolicyCosts } from '../../simulation/lifetime-costs.ts'
import { DRAWS_PER_SET, middleSet } from '../../simulation/parameter-sets.ts'
import { type Prepared, planOf, withScenario } from '../../simulation/run.ts'

/** Most draws of a policy, and failures that they should come to at most. Ours: the same draws are used for every policy, so that only differences count. */
const MOST_DRAWS = 1000
const MOST_FAILURES = 10_000
/** Fewest draws, however many units there are: five parameter sets, to have an error. */
const FEWEST_DRAWS = 5 * DRAWS_PER_SET

/** What was made ready last, so that several analyses of one option share it. */
const latest = new WeakMap<Prepared, Map<number, PolicyCosts>>()

/**
 * The first draws of an option, ready to be played under policies, with straight-line residual value on (C6).
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param draws - draws of the run; at most 1,000 are used, and fewer where units are many
 */
export function policyCosts(prepared: Prepared, option: number, draws: number): PolicyCosts {
  const known = latest.get(prepared) ?? new Map<number, PolicyCosts>()
  latest.set(prepared, known)
  const ready = known.get(option)
  if (ready !== undefined) return ready
  const valued = withScenario(prepared, { ...prepared.scenario, residualValue: 'straight-line' })
  const { truth } = planOf(valued, option).at(middleSet(prepared.scenario.unknowns.length))
  const affordable = DRAWS_PER_SET * Math.floor(MOST_FAILURES / failuresOf(truth) / DRAWS_PER_SET)
  const used = Math.min(draws, MOST_DRAWS, Math.max(affordable, FEWEST_DRAWS))
  const made = new PolicyCosts(valued, option, used)
  known.set(option, made)
  return made
}

/** Failures of original units that a lifetime is expected to have, about; the root where units fail again and again. */
function failuresOf({ units }: OptionTruth): number {
  return units.reduce((sum, { count, multiplier, hazardAtStart, hazardAtHorizon }) => {
    const hazard = multiplier * (hazardAtHorizon - hazardAtStart)
    return sum + count * (hazard > 1 ? Math.sqrt(hazard) : hazard)
  }, 1e-3)
}
