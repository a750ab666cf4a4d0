/** Searches by halving an interval. */

/**
 * The first place at which a condition holds that holds from then on.
 *
 * @param n - number of places, >= 0
 * @param holds - false up to some place, true from there
 * @returns from 0; n if it never holds
 * @example firstIndex(3, place => place * place > 1) // 2
 */
export function firstIndex(n: number, holds: (place: number) => boolean): number {
  let low = 0
  let high = n
  while (low < high) {
    const middle = (low + high) >> 1
    if (holds(middle)) high = middle
    else low = middle + 1
  }
  return low
}

/**
 * Bounds around the value at which a condition ceases to hold.
 *
 * @param low - a value at which it holds
 * @param high - a value above, at which it does not
 * @param halvings - how often the distance is halved, whole, >= 0
 * @param holds - true up to some value, false from there
 * @returns the bounds, 2^−halvings of the first distance apart
 * @example bisect(0, 4, 40, x => x * x < 2).low // 1.414214
 */
export function bisect(
  low: number,
  high: number,
  halvings: number,
  holds: (value: number) => boolean,
): { readonly low: number; readonly high: number } {
  let [below, above] = [low, high]
  for (let i = 0; i < halvings; i++) {
    const middle = (below + above) / 2
    if (holds(middle)) below = middle
    else above = middle
  }
  return { low: below, high: above }
}
