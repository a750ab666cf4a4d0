import { lifeForShape } from './fixed-shape.ts'
import type { FailureModel } from './model.ts'

/**
 * One Weibull curve whose shape is given and not estimated.
 *
 * @param shape - > 0
 */
export function fixedShapeModel(shape: number): FailureModel {
  return {
    name: 'weibull-fixed-shape',
    label: `a Weibull curve with the given shape ${shape}`,
    description: 'All failures follow one curve whose shape was given; the records decide only the life.',
    extends: null,
    fewestFailures: 1,
    form: () => ({ modes: [{ cause: 'as recorded', shape, life: null, share: 1 }] }),
    starts: pooled => [[Math.log(lifeForShape(pooled, shape))]],
  }
}
