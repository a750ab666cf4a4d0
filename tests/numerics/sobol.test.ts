import { describe, expect, it } from 'vitest'
import { SOBOL_DIMENSIONS, sobolCoordinate } from '../../src/numerics/random/sobol.ts'

/** Number of points in each cell of a grid over two coordinates. */
function cellCounts(points: number, a: number, cellsA: number, b: number, cellsB: number): number[] {
  const counts = new Array<number>(cellsA * cellsB).fill(0)
  for (let i = 0; i < points; i++) {
    const x = Math.floor(sobolCoordinate(a, i, 0) * cellsA)
    const y = Math.floor(sobolCoordinate(b, i, 0) * cellsB)
    counts[x * cellsB + y] = (counts[x * cellsB + y] ?? 0) + 1
  }
  return counts
}

describe('sobolCoordinate', () => {
  it('puts one point into each of 1,024 strata of every coordinate', () => {
    for (let dimension = 0; dimension < SOBOL_DIMENSIONS; dimension++) {
      const strata = new Set<number>()
      for (let i = 0; i < 1024; i++) strata.add(Math.floor(sobolCoordinate(dimension, i, 0) * 1024))
      expect(strata.size, `dimension ${dimension}`).toBe(1024)
    }
  })

  it('keeps that evenness under a digital shift', () => {
    const strata = new Set<number>()
    for (let i = 0; i < 1024; i++) strata.add(Math.floor(sobolCoordinate(4, i, 0xdeadbeef) * 1024))
    expect(strata.size).toBe(1024)
  })

  it('is a (0, m, 2)-net in its first two coordinates: one of 256 points in every elementary box', () => {
    for (let k = 0; k <= 8; k++) {
      expect(new Set(cellCounts(256, 0, 2 ** k, 1, 2 ** (8 - k)))).toEqual(new Set([1]))
    }
  })

  it('gives the first points of the sequence as computed by hand', () => {
    const points = (dimension: number): number[] =>
      Array.from({ length: 4 }, (_, i) => Math.round(sobolCoordinate(dimension, i, 0) * 8) / 8)
    // Gray-code order: 0, 1/2, 3/4, 1/4 and 0, 1/2, 1/4, 3/4
    expect(points(0)).toEqual([0, 0.5, 0.75, 0.25])
    expect(points(1)).toEqual([0, 0.5, 0.25, 0.75])
  })

  it('spreads every pair of coordinates: 4,096 points over 8 × 8 cells differ by few from 64 each', () => {
    for (let a = 0; a < SOBOL_DIMENSIONS; a++) {
      for (let b = a + 1; b < SOBOL_DIMENSIONS; b++) {
        const counts = cellCounts(4096, a, 8, b, 8)
        expect(Math.max(...counts) - Math.min(...counts), `${a}, ${b}`).toBeLessThanOrEqual(8)
      }
    }
  })

  it('refuses a coordinate that it does not have', () => {
    expect(() => sobolCoordinate(SOBOL_DIMENSIONS, 0, 0)).toThrow(RangeError)
  })
})
