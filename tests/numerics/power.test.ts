import { expect, test } from 'vitest'
import { power, square } from '../../src/numerics/power.ts'
import { expectClose } from './relative.ts'

test('power: whole exponents are products, to the last bit', () => {
  const x = 1.1
  expect([power(x, 0), power(x, 1), power(x, 2), power(x, 3)]).toEqual([1, x, x * x, x * (x * x)])
  expect(power(x, -2)).toBe(1 / (x * x))
  expect(power(-2, 3)).toBe(-8)
  for (let k = -60; k <= 60; k++) expect(power(2, k)).toBe(2 ** k)
  for (let k = 0; k <= 22; k++) expect([power(10, k), power(10, -k)]).toEqual([Number(`1e${k}`), Number(`1e-${k}`)])
  expect(square(-3)).toBe(9)
})

test('power: other exponents agree with Math.pow to the digits that a logarithm leaves', () => {
  for (const x of [1e-300, 1e-9, 0.3, 0.999999, 1.000001, 7, 1e9, 1e300]) {
    for (const y of [-2.5, -0.7, 0.01, 0.5, 1 / 3, 1.8, 2.5, 65]) {
      const wanted = x ** y
      if (Number.isFinite(wanted) && wanted > 1e-300) {
        expectClose(power(x, y), wanted, 1e-15 + 2.3e-16 * Math.abs(y * Math.log(x)))
      }
    }
  }
  expectClose(power(0.9999, 10_000), Math.exp(10_000 * Math.log1p(-1e-4)), 1e-12)
})

test('power: the ends are those of Math.pow', () => {
  for (const [x, y] of [
    [0, 0],
    [0, 0.3],
    [0, -0.3],
    [0, 3],
    [0, -3],
    [1, 0.3],
    [Infinity, 0.3],
    [Infinity, -0.3],
    [0.5, Infinity],
    [2, Infinity],
    [2, -Infinity],
    [-2, 0.5],
    [2, NaN],
    [NaN, 2],
  ] as const) {
    expect([x, y, power(x, y)]).toEqual([x, y, x ** y])
  }
})
