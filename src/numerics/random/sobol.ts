/**
 * Points that fill a cube more evenly than chance does: a Sobol sequence, each coordinate moved by a digital shift so
 * that every point is uniform by itself and errors can be estimated from independent shifts.
 */

import { power } from '../power.ts'

/** Primitive polynomials (degree, inner coefficients) and first direction numbers of dimensions 2 to 13. */
const DIRECTIONS: readonly (readonly [degree: number, inner: number, first: readonly number[]])[] = [
  [1, 0, [1]],
  [2, 1, [1, 3]],
  [3, 1, [1, 3, 1]],
  [3, 2, [1, 1, 1]],
  [4, 1, [1, 1, 3, 3]],
  [4, 4, [1, 3, 5, 13]],
  [5, 2, [1, 1, 5, 5, 17]],
  [5, 4, [1, 1, 5, 5, 5]],
  [5, 7, [1, 1, 7, 11, 19]],
  [5, 11, [1, 1, 5, 1, 1]],
  [5, 13, [1, 1, 1, 3, 11]],
  [5, 14, [1, 3, 5, 5, 31]],
]

/** Coordinates that a point may have. */
export const SOBOL_DIMENSIONS = DIRECTIONS.length + 1

const BITS = 32
const columns = new Map<number, Uint32Array>()

/**
 * One coordinate of one point of the shifted sequence.
 *
 * @param dimension - which coordinate, whole, 0 to SOBOL_DIMENSIONS − 1
 * @param index - number of the point, whole, 0 to 2^32 − 1
 * @param shift - digital shift of the coordinate, whole, 0 to 2^32 − 1; uniform over independent replications
 * @returns coordinate in (0, 1)
 * @throws RangeError for a dimension that does not exist
 * @source I. SOBOL (1967), USSR Comput. Math. Math. Phys. 7, 86–112; direction numbers S. JOE, F. KUO (2008), SIAM J.
 *   Sci. Comput. 30, 2635–2654, recalled and checked by their evenness in the tests
 */
export function sobolCoordinate(dimension: number, index: number, shift: number): number {
  const directions = directionsOf(dimension)
  let word = 0
  let code = (index ^ (index >>> 1)) >>> 0 // Gray code: the same points of every power of two, each found alone
  for (let bit = 0; code !== 0; bit++, code >>>= 1) if (code & 1) word ^= directions[bit] ?? 0
  return (((word ^ shift) >>> 0) + 0.5) / 4294967296
}

function directionsOf(dimension: number): Uint32Array {
  const known = columns.get(dimension)
  if (known !== undefined) return known
  const directions = dimension === 0 ? firstDimension() : furtherDimension(dimension)
  columns.set(dimension, directions)
  return directions
}

function firstDimension(): Uint32Array {
  return Uint32Array.from({ length: BITS }, (_, bit) => power(2, BITS - 1 - bit))
}

function furtherDimension(dimension: number): Uint32Array {
  const entry = DIRECTIONS[dimension - 1]
  if (entry === undefined)
    throw new RangeError(`a Sobol point has ${SOBOL_DIMENSIONS} coordinates, not ${dimension + 1}`)
  const [degree, inner, first] = entry
  const directions = new Uint32Array(BITS)
  for (let bit = 0; bit < BITS; bit++) {
    if (bit < degree) {
      directions[bit] = (first[bit] ?? 1) * power(2, BITS - 1 - bit)
      continue
    }
    const back = directions[bit - degree] ?? 0
    let word = back ^ (back >>> degree)
    for (let i = 1; i < degree; i++) if ((inner >> (degree - 1 - i)) & 1) word ^= directions[bit - i] ?? 0
    directions[bit] = word
  }
  return directions
}
