/** Whole powers up to this, either way, are products. Ours: beyond it they would lose more digits than logarithms do. */
const LARGEST_PRODUCT = 64

/**
 * A real power, the same to the last bit on every version of Node (N3): `Math.pow` and `**` are not, the exponential and
 * the logarithm are.
 * x^y = exp(y·ln x); a product where y is a whole number up to ±64
 *
 * @param base - x, >= 0; any number where the exponent is a whole number up to ±64
 * @param exponent - y, any number
 * @returns x^y, relative error under 1e-15 + 2e-16·|y·ln x|; 1 for y = 0, 0 for 0^y and Infinity for 0^−y; NaN for the
 *   power of a negative number that is no product
 * @example power(9, 1.5) // 27
 */
export function power(base: number, exponent: number): number {
  if (exponent === Math.floor(exponent) && exponent <= LARGEST_PRODUCT && exponent >= -LARGEST_PRODUCT) {
    return exponent < 0 ? 1 / product(base, -exponent) : product(base, exponent)
  }
  return exponent === 0.5 ? Math.sqrt(base) : Math.exp(exponent * Math.log(base))
}

/**
 * A number times itself.
 *
 * @param value - any number
 * @returns its square
 * @example square(3) // 9
 */
export function square(value: number): number {
  return value * value
}

/** x^n by squaring, n whole and >= 0. */
function product(base: number, factors: number): number {
  let result = 1
  let squared = base
  for (let left = factors; left > 0; left >>= 1) {
    if (left & 1) result *= squared
    squared *= squared
  }
  return result
}
