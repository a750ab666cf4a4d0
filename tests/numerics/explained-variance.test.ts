import { describe, expect, test } from 'vitest'
import { explainedVariance } from '../../src/numerics/samples/explained-variance.ts'

describe('explained variance', () => {
  test('of a straight line it is 1; of a column that explains nothing it is about 0', () => {
    const x = [1, 2, 3, 4, 5, 6, 7, 8]
    expect(
      explainedVariance(
        [x],
        x.map(value => 5 - 3 * value),
      ),
    ).toBeCloseTo(1, 12)
    // centred, and at right angles to the values
    expect(explainedVariance([[1, -1, 1, -1, 1, -1, 1, -1]], [1, 1, -1, -1, 1, 1, -1, -1])).toBeCloseTo(1 - 7 / 6, 12)
  })

  test('by hand: y = 0, 2, 1, 3 on x = 0, 1, 2, 3 has R² 0.64, adjusted 0.46', () => {
    expect(explainedVariance([[0, 1, 2, 3]], [0, 2, 1, 3])).toBeCloseTo(1 - 0.36 * (3 / 2), 12)
  })

  test('a column given twice counts once', () => {
    const x = [0, 1, 2, 3, 4, 5]
    const y = [0, 2, 1, 3, 5, 4]
    expect(explainedVariance([x, x], y)).toBeCloseTo(explainedVariance([x], y) ?? Number.NaN, 12)
  })

  test('none with too few values, or values that do not vary; 0 without columns', () => {
    expect(explainedVariance([[1, 2, 3]], [1, 2, 3])).toBeNull()
    expect(explainedVariance([[1, 2, 3, 4]], [7, 7, 7, 7])).toBeNull()
    expect(explainedVariance([], [1, 2, 3])).toBeCloseTo(0, 12)
  })
})
