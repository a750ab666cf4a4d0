import { PolicyCosts } from '../../simulation/lifetime-costs.ts'
import { type Prepared, withScenario } from '../../simulation/run.ts'
import { affordableDraws } from '../few-draws.ts'

/**
 * Most draws of a policy, and most failures in all of them. Ours: the same draws are used for every policy, so that
 * only differences count.
 */
const MOST_DRAWS = 1000
const MOST_FAILURES = 10_000

/** Prepared draws by option, shared by its analyses. */
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
  const used = affordableDraws(valued, option, Math.min(draws, MOST_DRAWS), MOST_FAILURES)
  const made = new PolicyCosts(valued, option, used)
  known.set(option, made)
  return made
}
