import { unitsPerYear } from '../age-unit.ts'
import { logit } from '../likelihood/form.ts'
import { lifeForShape } from './fixed-shape.ts'
import type { FailureModel } from './model.ts'

/** Shape of the early mode, fixed (a judgement). */
export const EARLY_SHAPE = 0.7

/** Characteristic life of the early mode, years, fixed (a judgement). */
export const EARLY_LIFE_YEARS = 1

/**
 * One Weibull curve, and with it a small share of units with a fault from the start. Shape and life of the early mode
 * are the fixed figures of the evidence: a few early failures cannot determine three figures. The share is estimated.
 */
export const weibullEarly: FailureModel = {
  name: 'weibull+early',
  label: 'a curve with a share of early faults',
  description:
    'A small share of units carries a fault from the start and fails mostly in the first years; the others follow one curve.',
  extends: 'weibull',
  fewestFailures: 10,
  form: ageUnit => ({
    modes: [
      { cause: 'wear', shape: null, life: null, share: 1 },
      { cause: 'early fault', shape: EARLY_SHAPE, life: EARLY_LIFE_YEARS * unitsPerYear(ageUnit), share: null },
    ],
  }),
  starts: pooled =>
    [1.5, 3].flatMap(shape =>
      [0.005, 0.03].map(share => [Math.log(shape), Math.log(lifeForShape(pooled, shape)), logit(share)]),
    ),
}
