import { describe, expect, it } from 'vitest'
import { cholesky, inverse, quadraticForm, solve } from '../../src/numerics/linear-system.ts'
import { maximise } from '../../src/numerics/newton.ts'

describe('small systems', () => {
  it('solve: with rows to be exchanged, and null where there is no answer', () => {
    expect(
      solve(
        [
          [0, 2],
          [3, 1],
        ],
        [4, 5],
      ),
    ).toEqual([1, 2])
    expect(
      solve(
        [
          [1, 2],
          [2, 4],
        ],
        [1, 1],
      ),
    ).toBeNull()
  })

  it('inverse and cholesky: multiplied out again they give the matrix', () => {
    const matrix = [
      [4, 1, 0.5],
      [1, 3, -0.2],
      [0.5, -0.2, 2],
    ]
    const other = inverse(matrix)!
    const lower = cholesky(matrix)!
    for (const r of [0, 1, 2]) {
      for (const c of [0, 1, 2]) {
        const one = [0, 1, 2].reduce((sum, k) => sum + matrix[r]![k]! * other[k]![c]!, 0)
        const back = [0, 1, 2].reduce((sum, k) => sum + lower[r]![k]! * lower[c]![k]!, 0)
        expect(one).toBeCloseTo(r === c ? 1 : 0, 12)
        expect(back).toBeCloseTo(matrix[r]![c]!, 12)
      }
    }
    expect(
      cholesky([
        [1, 2],
        [2, 1],
      ]),
    ).toBeNull()
    expect(quadraticForm(matrix, [1, 0, 2])).toBeCloseTo(4 + 2 * 1 + 8, 12)
  })
})

describe('maximise', () => {
  it('climbs a curved ridge where the function is not concave at the start', () => {
    // −(1 − x)² − 20 (y − x²)²
    const top = maximise(
      ([x = 0, y = 0]) => ({
        value: -((1 - x) ** 2) - 20 * (y - x * x) ** 2,
        gradient: [2 * (1 - x) + 80 * x * (y - x * x), -40 * (y - x * x)],
        hessian: [
          [-2 + 80 * (y - 3 * x * x), 80 * x],
          [80 * x, -40],
        ],
      }),
      [-1.2, 2],
    )
    expect(top.converged).toBe(true)
    expect(top.x[0]).toBeCloseTo(1, 10)
    expect(top.x[1]).toBeCloseTo(1, 10)
  })

  it('avoids points where the function has no value', () => {
    const top = maximise(
      ([x = 0]) => ({ value: x > 0 ? Math.log(x) - x : -Infinity, gradient: [1 / x - 1], hessian: [[-1 / (x * x)]] }),
      [0.01],
    )
    expect(top.x[0]).toBeCloseTo(1, 10)
    expect(() => maximise(() => ({ value: -Infinity, gradient: [0], hessian: [[-1]] }), [1])).toThrow(RangeError)
  })

  it('reports where there is no maximum', () => {
    expect(maximise(([x = 0]) => ({ value: x, gradient: [1], hessian: [[0]] }), [0]).converged).toBe(false)
  })
})
