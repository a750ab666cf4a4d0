import { SCORE_90 } from '../../numerics/distributions/two-piece.ts'
import type { Expansion } from '../../numerics/newton.ts'
import type { Addition } from './fit-model.ts'
import { coordinatesOf } from './form.ts'
import { LIFE, SHAPE } from './mode-terms.ts'

/** What is believed of the first mode before the records are read; ranges are 10 % and 90 % points. */
export interface Prior {
  readonly shape: readonly [low: number, high: number] | null
  /** In the age unit of the records. */
  readonly life: readonly [low: number, high: number] | null
}

/**
 * A prior as an addition to the log-likelihood: independent normals of ln shape and ln life of the first mode.
 *
 * @param prior - ranges; null where nothing is believed (flat in the logarithm)
 * @returns the addition; 0 everywhere for an empty prior
 */
export function priorAddition(prior: Prior): Addition {
  return form => {
    const coordinates = coordinatesOf(form)
    const normals = coordinates.map(({ mode, place }) => {
      const range = mode !== 0 ? null : place === SHAPE ? prior.shape : place === LIFE ? prior.life : null
      if (range === null) return null
      const [low, high] = range.map(Math.log) as [number, number] // a pair stays a pair
      return { mean: (low + high) / 2, deviation: (high - low) / (2 * SCORE_90) }
    })
    return x => sumOfNormals(x, normals)
  }
}

/** A normal a coordinate; null: flat. The value is without constants. */
export type CoordinateNormals = readonly ({ readonly mean: number; readonly deviation: number } | null)[]

/**
 * Logarithm of independent normals, up to a constant.
 *
 * @param x - one number a coordinate
 * @param normals - one normal a coordinate
 */
export function sumOfNormals(x: readonly number[], normals: CoordinateNormals): Expansion {
  let value = 0
  const gradient = x.map((at, i) => {
    const normal = normals[i] ?? null
    if (normal === null) return 0
    const score = (at - normal.mean) / normal.deviation
    value -= (score * score) / 2
    return -score / normal.deviation
  })
  const hessian = x.map((_, r) =>
    x.map((__, c) => {
      const normal = normals[r] ?? null
      return r === c && normal !== null ? -1 / (normal.deviation * normal.deviation) : 0
    }),
  )
  return { value, gradient, hessian }
}
