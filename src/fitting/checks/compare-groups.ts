import { maximise } from '../../numerics/newton.ts'
import type { AgeUnit } from '../age-unit.ts'
import { type FitData, fitDataOf, fitModel } from '../likelihood/fit-model.ts'
import { likelihoodOf } from '../likelihood/likelihood.ts'
import { lifeForShape } from '../models/fixed-shape.ts'
import { weibull } from '../models/weibull.ts'
import { joinRows, type LifeRows } from '../rows.ts'
import { chiSquareTail } from './chi-square-tail.ts'
import type { GroupTest } from './log-rank.ts'

/** Whether groups follow one Weibull curve, and whether at least their shape is one. */
export interface GroupComparison {
  /** One curve for all against a curve for each. */
  readonly sameCurve: GroupTest
  /** One shape with a life for each against a curve for each. */
  readonly sameShape: GroupTest
  /** The shape, if it is one. */
  readonly commonShape: number
}

/**
 * Likelihood-ratio comparison of groups under one Weibull curve each.
 *
 * @param groups - records of each, at least two groups
 * @param ageUnit - unit of the ages
 * @returns both tests; null where a group has too few failures for a curve of its own
 * @source Meeker & Escobar (1998), Statistical Methods for Reliability Data, section 17.5 (recalled)
 */
export function compareGroups(groups: readonly LifeRows[], ageUnit: AgeUnit): GroupComparison | null {
  const data = groups.map(fitDataOf)
  const own = data.map(one => fitModel(one, weibull, ageUnit))
  const together = fitModel(fitDataOf(joinRows(groups)), weibull, ageUnit)
  if (together === null) return null
  let apart = 0
  const shapes: number[] = []
  for (const fit of own) {
    const shape = fit?.modes[0]?.shape
    if (fit === null || shape === undefined) return null
    apart += fit.logLikelihood
    shapes.push(shape)
  }
  const common = bestCommonShape(data, Math.min(...shapes), Math.max(...shapes))
  return {
    sameCurve: ratioTest(apart - together.logLikelihood, 2 * (groups.length - 1)),
    sameShape: ratioTest(apart - common.logLikelihood, groups.length - 1),
    commonShape: common.shape,
  }
}

function ratioTest(gain: number, degreesOfFreedom: number): GroupTest {
  const chiSquare = Math.max(0, 2 * gain)
  return { chiSquare, degreesOfFreedom, pValue: chiSquareTail(chiSquare, degreesOfFreedom) }
}

/** The one shape that suits all groups best, between the smallest and the largest of their own; golden section. */
function bestCommonShape(
  data: readonly FitData[],
  low: number,
  high: number,
): { shape: number; logLikelihood: number } {
  const at = (logShape: number): number => {
    const shape = Math.exp(logShape)
    let sum = 0
    for (const { search: pooled } of data) {
      const evaluate = likelihoodOf(pooled, { modes: [{ cause: '', shape, life: null, share: 1 }] })
      sum += maximise(evaluate, [Math.log(lifeForShape(pooled, shape))]).value
    }
    return sum
  }
  const ratio = (Math.sqrt(5) - 1) / 2
  let a = Math.log(low)
  let b = Math.log(high)
  let c = b - ratio * (b - a)
  let d = a + ratio * (b - a)
  let atC = at(c)
  let atD = at(d)
  while (b - a > 1e-6) {
    if (atC > atD) {
      b = d
      d = c
      atD = atC
      c = b - ratio * (b - a)
      atC = at(c)
    } else {
      a = c
      c = d
      atC = atD
      d = a + ratio * (b - a)
      atD = at(d)
    }
  }
  const logShape = (a + b) / 2
  return { shape: Math.exp(logShape), logLikelihood: at(logShape) }
}
