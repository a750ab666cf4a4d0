import type { OptionParameters } from '../history/parameters.ts'
import type { Option } from '../scenario/model.ts'
import { DRAWS_PER_SET, middleSet } from '../simulation/parameter-sets.ts'
import { type Prepared, planOf } from '../simulation/run.ts'

/** Most draws played. Ours: what a gateway costs is then known to a tenth, in a twentieth of the time of the run. */
const MOST_DRAWS = 400
/** Lifetimes of units that are played at most, unless 20 draws have more. Ours. */
const MOST_UNIT_LIVES = 1_000_000

/**
 * Draws for the figures of a note on an option: few, and fewer where it has many units.
 *
 * @param option - the option
 * @returns a multiple of 20, 20 to 400
 */
export function fewDraws({ populations }: Pick<Option, 'populations'>): number {
  const units = populations.reduce((sum, { count }) => sum + count, 0)
  const affordable = DRAWS_PER_SET * Math.floor(MOST_UNIT_LIVES / units / DRAWS_PER_SET)
  return Math.min(MOST_DRAWS, Math.max(DRAWS_PER_SET, affordable))
}

/** Fewest draws of an analysis, however many units there are: five parameter sets, to have an error. */
const FEWEST_DRAWS = 5 * DRAWS_PER_SET

/**
 * Draws of an analysis that plays or prices the same lifetimes many times, so that only differences count: fewer where
 * a lifetime has many failures, since each failure carries as much information as a lifetime of a single unit.
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param most - draws at most
 * @param mostFailures - expected failures in all draws, at most
 * @returns a multiple of 20 from 100, or `most` where that is less
 */
export function affordableDraws(prepared: Prepared, option: number, most: number, mostFailures: number): number {
  const { parameters } = planOf(prepared, option).at(middleSet(prepared.scenario.unknowns.length))
  const affordable = DRAWS_PER_SET * Math.floor(mostFailures / failuresOf(parameters) / DRAWS_PER_SET)
  return Math.min(most, Math.max(affordable, FEWEST_DRAWS))
}

/** Expected failures of a lifetime, about: the hazard of each unit, or its root where units fail several times. */
function failuresOf({ units }: OptionParameters): number {
  return units.reduce((sum, { count, multiplier, hazardAtStart, hazardAtHorizon }) => {
    const hazard = multiplier * (hazardAtHorizon - hazardAtStart)
    return sum + count * (hazard > 1 ? Math.sqrt(hazard) : hazard)
  }, 1e-3)
}
