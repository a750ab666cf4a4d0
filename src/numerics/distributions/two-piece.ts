/**
 * Distributions given by a middle and two bounds (U1a): on the scale of the quantity each side of the middle is half
 * a normal, so that `low` is its 10 % point, `middle` its 50 % point and `high` its 90 % point.
 */

/** Scale on which a quantity is spread evenly: shares on logits, growths as they are, all else on logarithms. */
export type SpreadScale = 'log' | 'logit' | 'linear'

/** A quantity known only as a range (U1a). */
export interface TwoPiece {
  readonly scale: SpreadScale
  /** 10 % point. */
  readonly low: number
  /** 50 % point; low < middle < high. */
  readonly middle: number
  /** 90 % point. */
  readonly high: number
}

/** Standard normal score of the 90 % point. */
export const SCORE_90 = 1.2815515655446004

/**
 * The value of a two-piece quantity at a standard normal score (U1a).
 *
 * @param range - low < middle < high on their scale; shares in (0, 1), logarithmic values > 0
 * @param score - standard normal score, any finite number; −1.2816 gives low, 0 the middle, 1.2816 high
 * @returns the value, inside the domain of its scale
 * @example twoPieceAt({ scale: 'log', low: 1, middle: 2, high: 8 }, 0) // 2
 */
export function twoPieceAt(range: TwoPiece, score: number): number {
  if (score === 0) return range.middle
  const middle = toScale(range.scale, range.middle)
  const bound = toScale(range.scale, score < 0 ? range.low : range.high)
  return fromScale(range.scale, middle + ((bound - middle) * score) / (score < 0 ? -SCORE_90 : SCORE_90))
}

/**
 * The middle of a range whose middle is not given (U1a): √(low·high), the middle of the logits, or the mean.
 *
 * @param scale - scale of the quantity
 * @param low - 10 % point, in the domain of the scale
 * @param high - 90 % point, > low
 * @returns the 50 % point
 * @example middleOf('log', 2, 8) // 4
 */
export function middleOf(scale: SpreadScale, low: number, high: number): number {
  return fromScale(scale, (toScale(scale, low) + toScale(scale, high)) / 2)
}

function toScale(scale: SpreadScale, value: number): number {
  if (scale === 'log') return Math.log(value)
  if (scale === 'logit') return Math.log(value / (1 - value))
  return value
}

function fromScale(scale: SpreadScale, value: number): number {
  if (scale === 'log') return Math.exp(value)
  if (scale === 'logit') return 1 / (1 + Math.exp(-value))
  return value
}
