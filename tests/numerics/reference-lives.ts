/** A life as the reference files describe it. */
export type ReferenceLife =
  | { readonly kind: 'weibull'; readonly shape: number; readonly scale: number }
  | MixtureOrMinimum

interface MixtureOrMinimum {
  readonly kind: 'min2' | 'mix2'
  readonly weight1?: number
  readonly shape1: number
  readonly scale1: number
  readonly shape2: number
  readonly scale2: number
}

/**
 * Distribution function of a reference life: a Weibull, the earlier of two (min2) or a mixture of two (mix2).
 *
 * @param life - as in the file
 * @returns share failed by a time
 */
export function cdfOf(life: ReferenceLife): (t: number) => number {
  if (life.kind === 'weibull') return weibullCdf(life.shape, life.scale)
  const one = weibullCdf(life.shape1, life.scale1)
  const two = weibullCdf(life.shape2, life.scale2)
  if (life.kind === 'min2') return t => one(t) + two(t) - one(t) * two(t)
  const weight = life.weight1 ?? Number.NaN
  return t => weight * one(t) + (1 - weight) * two(t)
}

/**
 * Distribution function of a Weibull life.
 *
 * @param shape - > 0
 * @param scale - > 0
 * @returns share failed by a time
 */
export function weibullCdf(shape: number, scale: number): (t: number) => number {
  return t => -Math.expm1(-((t / scale) ** shape))
}
