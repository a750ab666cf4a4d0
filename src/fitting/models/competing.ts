import type { Pool } from '../likelihood/pool.ts'
import { lifeForShape } from './fixed-shape.ts'
import type { FailureModel } from './model.ts'

/** Two competing Weibull modes: risk may fall first and rise later. */
export const competing2: FailureModel = {
  name: 'competing-2',
  label: 'a curve of two competing causes',
  description:
    'Two causes act at the same time and the earlier one ends the life, so the risk may fall first and rise later.',
  extends: 'weibull',
  fewestFailures: 20,
  form: () => ({ modes: [mode('first cause'), mode('second cause')] }),
  starts: pooled =>
    startsOf(pooled, [
      [0.6, 2.5],
      [1, 4],
      [0.8, 1.6],
      [1.5, 6],
    ]),
}

/** Three competing Weibull modes: early, steady and late causes. */
export const competing3: FailureModel = {
  name: 'competing-3',
  label: 'a curve of three competing causes',
  description: 'Three causes act at the same time and the earliest ends the life.',
  extends: 'competing-2',
  fewestFailures: 60,
  form: () => ({ modes: [mode('first cause'), mode('second cause'), mode('third cause')] }),
  starts: pooled =>
    startsOf(pooled, [
      [0.5, 1, 3],
      [0.7, 1.5, 4],
      [0.6, 2.5, 6],
    ]),
}

function mode(cause: string) {
  return { cause, shape: null, life: null, share: 1 }
}

/** For each list of shapes: the failures shared out evenly, and with two causes also one to three. */
function startsOf(pooled: Pool, shapes: readonly (readonly number[])[]): number[][] {
  return shapes.flatMap(list => {
    const even = list.map(() => 1 / list.length)
    const splits = list.length === 2 ? [even, [0.25, 0.75]] : [even]
    return splits.map(split =>
      list.flatMap((shape, i) => [
        Math.log(shape),
        // A cause that ends a part f of the failures has a cumulative hazard f times as high.
        Math.log(lifeForShape(pooled, shape)) - Math.log(split[i] ?? 1) / shape,
      ]),
    )
  })
}
