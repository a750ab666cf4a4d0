/**
 * An amount in whole hundredths, rounded half to even (F4), so that sums over sites are exact in any order.
 *
 * @param amount - money, finite
 * @returns whole number; never −0
 * @example hundredths(0.125) // 12
 */
export function hundredths(amount: number): number {
  return wholeHalfEven(amount * 100)
}

/**
 * The nearest whole number, halves to the even one.
 *
 * @param value - finite
 * @returns whole number; never −0
 * @example wholeHalfEven(2.5) // 2
 */
export function wholeHalfEven(value: number): number {
  const low = Math.floor(value)
  const part = value - low
  if (part < 0.5) return low + 0
  if (part > 0.5) return low + 1
  return (low % 2 === 0 ? low : low + 1) + 0
}
