import { bisect } from '../../numerics/bisection.ts'
import { square } from '../../numerics/power.ts'
import { type ComponentKind, type CurveKey, kindOf } from '../../topologies/kinds.ts'

/**
 * Losses of an inverter at part load (E3), all as shares of its AC rating: DC = p + k0 + k1·p + k2·p².
 *
 * @source form as in King, Gonzalez, Galbraith, Boyson (2007), Performance model for grid-connected photovoltaic
 * inverters, SAND2007-5036, solved for DC and without its voltage terms
 */
export interface ConversionCurve {
  readonly k0: number
  readonly k1: number
  readonly k2: number
}

/**
 * Usual curves by kind (E3); illustrative sets of ours that give European 97.2, 95.7 and 95.8 %. All tiers have the
 * same curve, since no data show a difference.
 */
export const USUAL_CURVES = {
  string: { k0: 0.004, k1: 0.01, k2: 0.012 },
  hybrid: { k0: 0.008, k1: 0.012, k2: 0.014 },
  'panel-level': { k0: 0.006, k1: 0.018, k2: 0.012 },
} as const satisfies Record<CurveKey, ConversionCurve>

/** Load as a share of the AC rating, and its weight. */
type Weights = readonly (readonly [load: number, weight: number])[]

/** European weighting: shares of a year's energy at six loads. @source public definition, as in Bletterie et al. (2011) */
export const EUROPEAN_WEIGHTS: Weights = [
  [0.05, 0.03],
  [0.1, 0.06],
  [0.2, 0.13],
  [0.3, 0.1],
  [0.5, 0.48],
  [1, 0.2],
]

/**
 * AC power of an inverter without its limit (E3), with the losses as plain numbers, for use in loops.
 *
 * @param dcShare - DC power over the AC rating, >= 0
 * @param k0 - what it needs to start
 * @param k1 - loss in proportion to power
 * @param k2 - loss by its square
 * @returns AC power over the AC rating, >= 0; 0 below what it needs to start
 */
export function acShare(dcShare: number, k0: number, k1: number, k2: number): number {
  if (dcShare <= k0) return 0
  if (k2 <= 0) return (dcShare - k0) / (1 + k1)
  // the stable form of the root: no difference of near numbers when k2 is small
  return (2 * (dcShare - k0)) / (1 + k1 + Math.sqrt(square(1 + k1) + 4 * k2 * (dcShare - k0)))
}

/**
 * One figure for the efficiency of an inverter: the mean over loads with their weights (E3).
 *
 * @param curve - its losses
 * @param weights - loads and weights
 * @returns efficiency, (0, 1]
 * @example weightedEfficiency(USUAL_CURVES.string, EUROPEAN_WEIGHTS) // 0.972
 */
export function weightedEfficiency(curve: ConversionCurve, weights: Weights): number {
  return weights.reduce(
    (sum, [load, weight]) => sum + (weight * load) / (load + curve.k0 + curve.k1 * load + curve.k2 * load * load),
    0,
  )
}

/**
 * The usual curve of a kind, with all three losses scaled by one number to meet a stated efficiency (E3).
 *
 * @param kind - a kind that converts solar power to alternating current
 * @param statedEuropean - European weighted efficiency, (0, 1); null: the usual curve
 * @returns the curve
 * @throws RangeError for a kind that is no inverter: a fault of the program
 */
export function curveOf(kind: ComponentKind, statedEuropean: number | null): ConversionCurve {
  const { curve } = kindOf(kind)
  if (curve === null) throw new RangeError(`a ${kind} has no conversion curve`)
  const usual = USUAL_CURVES[curve]
  if (statedEuropean === null) return usual
  const scaled = (factor: number): ConversionCurve => ({
    k0: usual.k0 * factor,
    k1: usual.k1 * factor,
    k2: usual.k2 * factor,
  })
  const isBetter = (factor: number): boolean => weightedEfficiency(scaled(factor), EUROPEAN_WEIGHTS) > statedEuropean
  const { low, high } = bisect(0, 100, 60, isBetter)
  return scaled((low + high) / 2)
}
