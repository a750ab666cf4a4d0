import { type CuredModes, cumulativeHazard, type Mode } from './lifetime.ts'
import { gammaFunction, lowerRegularisedGamma } from './special.ts'

/** Lives are followed to this age (C6). */
const OLDEST_YEARS = 100

/**
 * Mean further life of a unit of an age, lives followed to 100 years (C6).
 * ∫ S(x)/S(a) dx from a to 100; closed form by the incomplete gamma function for one Weibull mode.
 *
 * @param modes - the modes of the unit
 * @param ageYears - a, years, >= 0
 * @param cured - modes left out
 * @returns years, >= 0; 0 from age 100 on, 100 − a where nothing can fail
 * @source IEC 61703 mean residual life (recalled); incomplete gamma form by substitution x = (t/η)^β
 */
export function meanResidualLife(modes: readonly Mode[], ageYears: number, cured: CuredModes = 0): number {
  if (ageYears >= OLDEST_YEARS) return 0
  const left = modes.filter((_, i) => !((cured >> i) & 1))
  const [only] = left
  if (only === undefined) return OLDEST_YEARS - ageYears
  if (left.length === 1 && only.susceptible === 1) return weibullResidual(only, ageYears)
  return integrate(left, ageYears)
}

function weibullResidual(mode: Mode, ageYears: number): number {
  const { shape, lifeYears } = mode
  const hazard = (ageYears / lifeYears) ** shape
  if (hazard > 600) return 0 // nothing survives to this age
  const oldest = (OLDEST_YEARS / lifeYears) ** shape
  const a = 1 / shape
  const area = lowerRegularisedGamma(a, Math.min(oldest, 1e6)) - lowerRegularisedGamma(a, hazard)
  return Math.max(0, lifeYears * gammaFunction(1 + a) * area * Math.exp(hazard))
}

/** Nodes and weights of the three-point Gauss rule on (−1, 1); Abramowitz & Stegun (1964), table 25.4. */
const NODE = 0.7745966692414834
const OUTER = 5 / 9
const MIDDLE = 8 / 9

function integrate(modes: readonly Mode[], ageYears: number): number {
  const steepest = modes.reduce((most, mode) => Math.max(most, mode.shape), 0)
  const panel = Math.min(2, 20 / steepest)
  const start = cumulativeHazard(modes, ageYears)
  const survival = (age: number): number => Math.exp(start - cumulativeHazard(modes, age))
  let area = 0
  for (let from = ageYears; from < OLDEST_YEARS; from += panel) {
    const half = (Math.min(from + panel, OLDEST_YEARS) - from) / 2
    const centre = from + half
    const values = OUTER * (survival(centre - NODE * half) + survival(centre + NODE * half)) + MIDDLE * survival(centre)
    area += values * half
    if (values < 1e-12) break
  }
  return area
}
