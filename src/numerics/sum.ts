/**
 * The sum of some numbers, added up in their order.
 *
 * @param values - any number of them, or none
 * @returns the sum; 0 of none
 * @example sumOf([1, 2, 3.5]) // 6.5
 */
export function sumOf(values: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += values[i] as number // within the list
  return sum
}
