import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  acShare,
  curveOf,
  EUROPEAN_WEIGHTS,
  USUAL_CURVES,
  weightedEfficiency,
} from '../../src/energy/harvest/conversion-curve.ts'

/** Californian weighting. @source California Energy Commission, public definition */
const CEC_WEIGHTS = [
  [0.1, 0.04],
  [0.2, 0.05],
  [0.3, 0.12],
  [0.5, 0.21],
  [0.75, 0.53],
  [1, 0.05],
] as const

describe('E3 part-load conversion', () => {
  test('the public weights each sum to one', () => {
    for (const weights of [EUROPEAN_WEIGHTS, CEC_WEIGHTS]) {
      expect(weights.reduce((sum, [, weight]) => sum + weight, 0)).toBeCloseTo(1, 12)
    }
  })

  test('the usual curves give the weighted efficiencies they are stated for', () => {
    const round = (share: number): number => Math.round(share * 1000) / 1000
    expect(round(weightedEfficiency(USUAL_CURVES.string, EUROPEAN_WEIGHTS))).toBe(0.972)
    expect(round(weightedEfficiency(USUAL_CURVES.string, CEC_WEIGHTS))).toBe(0.975)
    expect(round(weightedEfficiency(USUAL_CURVES['panel-level'], EUROPEAN_WEIGHTS))).toBe(0.958)
    expect(round(weightedEfficiency(USUAL_CURVES['panel-level'], CEC_WEIGHTS))).toBe(0.963)
    expect(round(weightedEfficiency(USUAL_CURVES.hybrid, EUROPEAN_WEIGHTS))).toBe(0.957)
    expect(round(weightedEfficiency(USUAL_CURVES.hybrid, CEC_WEIGHTS))).toBe(0.963)
  })

  test('a stated efficiency is reached by scaling the usual curve', () => {
    for (const stated of [0.93, 0.965, 0.985]) {
      expect(weightedEfficiency(curveOf('string-inverter', stated), EUROPEAN_WEIGHTS)).toBeCloseTo(stated, 9)
    }
  })

  test('AC power undoes the curve: DC = p + k0 + k1 p + k2 p²', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 2, noNaN: true }), p => {
        for (const curve of Object.values(USUAL_CURVES)) {
          const dc = p + curve.k0 + curve.k1 * p + curve.k2 * p * p
          expect(acShare(dc, curve.k0, curve.k1, curve.k2)).toBeCloseTo(p, 10)
        }
      }),
      { seed: 2 },
    )
    const { k0, k1, k2 } = USUAL_CURVES.string
    expect(acShare(0.003, k0, k1, k2)).toBe(0)
  })
})
