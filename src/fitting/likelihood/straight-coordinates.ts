import type { Matrix } from '../../numerics/linear-system.ts'
import { coordinatesOf, type Form } from './form.ts'
import { LIFE, SHAPE } from './mode-terms.ts'

/**
 * Coordinates in which a likelihood of censored lives is nearly normal: in place of ln life the logarithm of the
 * cumulative hazard at a typical age, β·(ln t − ln η). In ln shape and ln life its contours are strongly curved as soon
 * as most units still work.
 */
export interface StraightCoordinates {
  fromX(x: readonly number[]): number[]
  toX(y: readonly number[]): number[]
  /** Logarithm of the volume of x that an element of y represents. */
  logStretch(y: readonly number[]): number
  /** Covariance in y from that in x, to first order. */
  covariance(x: readonly number[], inX: Matrix): number[][]
}

/**
 * The straight coordinates of a model.
 *
 * @param form - the model
 * @param logTypicalAge - logarithm of an age at which failures were seen
 */
export function straightCoordinates(form: Form, logTypicalAge: number): StraightCoordinates {
  const free = coordinatesOf(form)
  /** For a life: the place of its mode's shape; null for a shape, a share, or a life whose shape is fixed. */
  const shapeOf = free.map(({ mode, place }) => {
    if (place !== LIFE) return null
    const at = free.findIndex(other => other.mode === mode && other.place === SHAPE)
    return at < 0 ? null : at
  })
  return {
    fromX: x =>
      x.map((value, i) => {
        const at = shapeOf[i] ?? null
        return at === null ? value : Math.exp(x[at] ?? 0) * (logTypicalAge - value)
      }),
    toX: y =>
      y.map((value, i) => {
        const at = shapeOf[i] ?? null
        return at === null ? value : logTypicalAge - value * Math.exp(-(y[at] ?? 0))
      }),
    logStretch: y => y.reduce((sum, _, i) => sum - ((shapeOf[i] ?? null) === null ? 0 : (y[shapeOf[i] ?? 0] ?? 0)), 0),
    covariance: (x, inX) => {
      const slopes = x.map((value, r) =>
        x.map((_, c) => {
          const at = shapeOf[r] ?? null
          if (at === null) return r === c ? 1 : 0
          const shape = Math.exp(x[at] ?? 0)
          if (c === r) return -shape
          return c === at ? shape * (logTypicalAge - value) : 0
        }),
      )
      return slopes.map(rowA =>
        slopes.map(rowB =>
          rowA.reduce((sum, a, i) => sum + rowB.reduce((inner, b, j) => inner + a * (inX[i]?.[j] ?? 0) * b, 0), 0),
        ),
      )
    },
  }
}
