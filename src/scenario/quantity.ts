import { type TwoPiece, twoPieceAt } from '../numerics/distributions/two-piece.ts'

/** A quantity that is not known (±): which unknown moves it and between what bounds. */
export interface Unknown extends TwoPiece {
  /** Index into `Scenario.unknowns`; quantities that share an unknown move together (U1b). */
  readonly unknown: number
}

/** A number of a scenario: known, or a range. */
export type Quantity = number | Unknown

/**
 * One possible truth about everything that is not known: one standard normal score an unknown
 * (0 for the middle), in the order of `Scenario.unknowns`.
 */
export type Scores = Float64Array

/** Least growth a year; ours. The far tail of a range can reach below −1, where a price has no growth over time. */
const LEAST_GROWTH = -0.99

/**
 * The value of a quantity in one parameter set (U1).
 *
 * @param quantity - a number, or a range with its unknown
 * @param scores - one standard normal score an unknown
 * @returns the value, in the unit of the quantity; growths (linear) at least −0.99
 */
export function valueAt(quantity: Quantity, scores: Scores): number {
  if (typeof quantity === 'number') return quantity
  const value = twoPieceAt(quantity, scores[quantity.unknown] ?? 0)
  return quantity.scale === 'linear' ? Math.max(value, LEAST_GROWTH) : value
}

/**
 * The middle of a quantity: the number itself, or the 50 % point of its range.
 *
 * @param quantity - a number or a range
 * @returns the value, in the unit of the quantity
 */
export function middle(quantity: Quantity): number {
  return typeof quantity === 'number' ? quantity : quantity.middle
}
