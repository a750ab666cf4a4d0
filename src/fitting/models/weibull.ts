import { lifeForShape } from './fixed-shape.ts'
import type { FailureModel } from './model.ts'

/** One Weibull curve for all failures. */
export const weibull: FailureModel = {
  name: 'weibull',
  label: 'a single Weibull curve',
  description: 'All failures follow one curve: with age the risk falls, stays or rises, but does only one of these.',
  extends: null,
  fewestFailures: 1,
  form: () => ({ modes: [{ cause: 'as recorded', shape: null, life: null, share: 1 }] }),
  starts: pooled => [0.8, 1.5, 3, 6].map(shape => [Math.log(shape), Math.log(lifeForShape(pooled, shape))]),
}
