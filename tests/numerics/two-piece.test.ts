import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { middleOf, SCORE_90, type SpreadScale, twoPieceAt } from '../../src/numerics/distributions/two-piece.ts'
import { expectClose } from './relative.ts'

const RANGES = [
  { scale: 'log', low: 11, middle: 13, high: 17 },
  { scale: 'logit', low: 0.01, middle: 0.04, high: 0.1 },
  { scale: 'linear', low: -0.05, middle: -0.02, high: 0.01 },
] as const

describe('U1a: a range gives its three points and nothing beyond its domain', () => {
  test.each(RANGES)('$scale: 10 %, 50 % and 90 % points', range => {
    expectClose(twoPieceAt(range, -SCORE_90), range.low, 1e-12)
    expect(twoPieceAt(range, 0)).toBe(range.middle)
    expectClose(twoPieceAt(range, SCORE_90), range.high, 1e-12)
  })

  test.each(RANGES)('$scale: rises with the score, and shares stay shares', range => {
    let before = -Infinity
    for (let score = -8; score <= 8; score += 0.125) {
      const value = twoPieceAt(range, score)
      expect(value).toBeGreaterThan(before)
      if (range.scale !== 'linear') expect(value).toBeGreaterThan(0)
      if (range.scale === 'logit') expect(value).toBeLessThan(1)
      before = value
    }
  })

  test('the middle that is not given is √(low·high), the middle of the logits, or the mean', () => {
    expectClose(middleOf('log', 11, 17), Math.sqrt(11 * 17), 1e-14)
    expectClose(middleOf('linear', -0.04, 0.01), -0.015, 1e-14)
    const odds = Math.sqrt((0.2 / 0.8) * (0.7 / 0.3))
    expectClose(middleOf('logit', 0.2, 0.7), odds / (1 + odds), 1e-14)
  })

  test('without a given middle the two pieces are one: equal scores up and down are mirror images', () => {
    const scales: readonly SpreadScale[] = ['log', 'logit', 'linear']
    const bounds = fc.tuple(
      fc.double({ min: 0.01, max: 0.4, noNaN: true }),
      fc.double({ min: 0.5, max: 0.99, noNaN: true }),
    )
    fc.assert(
      fc.property(
        fc.constantFrom(...scales),
        bounds,
        fc.double({ min: 0, max: 4, noNaN: true }),
        (scale, [low, high], score) => {
          const range = { scale, low, middle: middleOf(scale, low, high), high }
          expectClose(middleOf(scale, twoPieceAt(range, -score), twoPieceAt(range, score)), range.middle, 1e-9)
        },
      ),
      { seed: 7 },
    )
  })
})
