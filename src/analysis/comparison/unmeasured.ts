import { explainedVariance } from '../../numerics/samples/explained-variance.ts'
import type { Known } from '../../scenario/model/assumption.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { ParameterSet } from '../../simulation/parameter-sets.ts'
import type { Comparison } from '../results/comparison.ts'
import type { SwingCosts } from '../sensitivity/swings.ts'
import { optionsMoved } from '../sensitivity/unknowns-read.ts'
import { type Compared, comparePairs, NO_NULL_CASES } from './comparison.ts'

/** How much of the answer is not measured (K4). */

/** Factor by which the wide run widens judged ranges and spreads, on their own scale (K4). */
const WIDER = 1.5
/** Most draws of the wide run (K4). */
export const WIDE_DRAWS = 4000

/** Grades of knowledge, the worst first. */
const WORST_FIRST = Object.keys({
  judgement: true,
  recalled: true,
  derived: true,
  published: true,
  yours: true,
} satisfies Record<Known, true>) as Known[] // the keys of the line above

/**
 * Share of what is not known that rests on judgement (K4a): what the judged inputs explain of the variance of the
 * parameter sets' means, over what all inputs explain.
 *
 * @param scenario - its unknowns
 * @param options - places of the options that the figure is of; unknowns that affect none of them are left out
 * @param sets - parameter sets, in order
 * @param figures - one a draw, sets one after another
 * @param drawsPerSet - draws of each set
 * @returns share, [0, 1]; null with nothing unknown, too few sets for the inputs, or inputs that explain nothing
 */
export function judgementShare(
  scenario: Scenario,
  options: readonly number[],
  sets: readonly ParameterSet[],
  figures: Float64Array,
  drawsPerSet: number,
): number | null {
  const means = Float64Array.from(sets, (_, set) => {
    let sum = 0
    for (let i = set * drawsPerSet; i < (set + 1) * drawsPerSet; i++) sum += figures[i] ?? 0
    return sum / drawsPerSet
  })
  const moving = scenario.unknowns.flatMap((input, unknown) =>
    optionsMoved(scenario, unknown).some(option => options.includes(option)) ? [{ input, unknown }] : [],
  )
  const explainedBy = (inputs: typeof moving): number | null =>
    explainedVariance(
      inputs.map(({ unknown }) => sets.map(set => set.scores[unknown] ?? 0)),
      means,
    )
  const all = explainedBy(moving)
  const judged = explainedBy(moving.filter(({ input }) => input.known === 'judgement'))
  if (moving.length === 0 || all === null || judged === null || all <= 0) return null
  return Math.min(1, Math.max(0, judged / all))
}

/**
 * The inputs whose range from its 10 % to its 90 % point, all others at their middle, reverses the sign of a difference (K4c).
 *
 * @param scenario - its unknowns
 * @param option - swings of one option
 * @param against - swings of the other
 * @returns label and grade, the worst known first; none where no single input reverses the sign
 */
export function turningInputs(scenario: Scenario, option: SwingCosts, against: SwingCosts): Comparison['turnedBy'] {
  const sign = Math.sign(option.middle - against.middle)
  const turning = scenario.unknowns.flatMap(({ label, known }, unknown) => {
    const [mine, theirs] = [option.ends.get(unknown), against.ends.get(unknown)]
    const at = (end: 'low' | 'high'): number => (mine?.[end] ?? option.middle) - (theirs?.[end] ?? against.middle)
    return Math.sign(at('low')) !== sign || Math.sign(at('high')) !== sign ? [{ input: label, known }] : []
  })
  return WORST_FIRST.flatMap(grade => turning.filter(({ known }) => known === grade))
}

/**
 * The scenario of the wide run (K4b): judged ranges 1.5 times as wide on their own scale, judged spreads of models 1.5
 * times as large with the share failed by the anchor age unchanged, and the tier effect unchanged.
 *
 * @param scenario - the scenario
 * @returns the wide one; null where nothing judged is drawn
 */
export function wideScenario(scenario: Scenario): Scenario | null {
  const isJudged = (unknown: number | null): boolean =>
    unknown !== null && scenario.unknowns[unknown]?.known === 'judgement'
  if (!scenario.unknowns.some(({ kind, known }) => known === 'judgement' && kind !== 'uniform')) return null
  return {
    ...scenario,
    unknowns: scenario.unknowns.map(unknown =>
      unknown.known === 'judgement' && unknown.kind === 'normal' ? { ...unknown, widened: WIDER } : unknown,
    ),
    options: scenario.options.map(option => ({
      ...option,
      populations: option.populations.map(population =>
        isJudged(scenario.models[population.model]?.multiplier ?? null)
          ? {
              ...population,
              failure: { ...population.failure, modelSpread: WIDER * population.failure.modelSpread },
            }
          : population,
      ),
    })),
  }
}

/**
 * Every verdict in the wide run (K4b), with the ordinary one from the same draws.
 *
 * @param compared - options of the run
 * @param wideCosts - lifetime costs of the wide run by option, one a draw
 * @param drawsPerSet - draws that share a parameter set
 * @returns by option and against, as `comparePairs` lists them
 */
export function wideVerdicts(
  compared: readonly Compared[],
  wideCosts: readonly Float64Array[],
  drawsPerSet: number,
): NonNullable<Comparison['wideRun']>[] {
  const draws = wideCosts[0]?.length ?? 0
  const perSet = Math.min(drawsPerSet, draws)
  const pairsOf = (costs: (option: number) => Float64Array): ReturnType<typeof comparePairs> =>
    comparePairs(
      compared.map((one, option) => ({ ...one, lifetimeCost: costs(option), sharp: null })),
      perSet,
      () => NO_NULL_CASES,
    )
  const ordinary = pairsOf(option => compared[option]?.lifetimeCost.subarray(0, draws) ?? new Float64Array(draws))
  return pairsOf(option => wideCosts[option] ?? new Float64Array(draws)).map((pair, i) => ({
    draws,
    verdict: pair.verdict,
    ordinaryVerdict: ordinary[i]?.verdict ?? null,
    meanDifference: pair.meanDifference,
    standardError: pair.standardError,
    chanceBetterOnAverage: pair.chanceBetterOnAverage,
  }))
}
