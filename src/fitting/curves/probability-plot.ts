import type { SurvivalStep } from './kaplan-meier.ts'

/** A point of a Weibull probability plot: one Weibull curve lies on a straight line there. */
export interface PlotPoint {
  readonly age: number
  /** Share failed, half-way up the step at this age, (0, 1). */
  readonly shareFailed: number
}

/**
 * The points of a Weibull probability plot, from the survival steps: at each age the share failed just before and just
 * after it, averaged.
 *
 * @param steps - from `kaplanMeier`
 * @param most - points at most; more are thinned evenly
 * @returns points in rising order of age
 * @source Meeker & Escobar (1998), Statistical Methods for Reliability Data, section 6.4 (recalled)
 */
export function plotPoints(steps: readonly SurvivalStep[], most = 400): PlotPoint[] {
  const points = steps.map((step, i) => ({
    age: step.age,
    shareFailed: 1 - (step.survival + (i === 0 ? 1 : (steps[i - 1]?.survival ?? 1))) / 2,
  }))
  return thin(points, most)
}

/**
 * A list thinned evenly; first and last stay.
 *
 * @param list - any list
 * @param most - length at most, >= 2
 */
export function thin<T>(list: readonly T[], most: number): T[] {
  if (list.length <= most) return [...list]
  const kept: T[] = []
  for (let i = 0; i < most; i++) {
    const item = list[Math.round((i * (list.length - 1)) / (most - 1))]
    if (item !== undefined) kept.push(item)
  }
  return kept
}
