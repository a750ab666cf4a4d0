import { bisect, firstIndex } from '../../numerics/bisection.ts'
import { cholesky, solve } from '../../numerics/linear-system.ts'
import type { Expansion } from '../../numerics/newton.ts'
import type { Fit } from '../likelihood/fit-model.ts'
import { modesOfForm } from '../likelihood/form.ts'
import { modeSum, plainMode } from '../likelihood/mode-terms.ts'
import { hazardSumOf } from '../likelihood/quantity.ts'
import { chiSquareTail } from './chi-square-tail.ts'

/** Failures seen and expected in one band of ages. */
export interface AgeBand {
  readonly fromAge: number
  readonly toAge: number
  readonly seen: number
  readonly expected: number
}

/** How well a model and the records agree. */
export interface Goodness {
  readonly bands: readonly AgeBand[]
  /** Hjort's X²; null with fewer than ten exact failures, or where failures lie between two ages. */
  readonly chiSquare: number | null
  readonly degreesOfFreedom: number | null
  /** Chance of a disagreement as large or larger if the model were true. */
  readonly pValue: number | null
}

/**
 * Failures seen against failures expected, by bands of ages that each expect the same number.
 * X² = zᵀ V⁻¹ z, z = seen − expected, V = diag(expected) − C·I⁻¹·Cᵀ, C the slopes of the expected numbers in the free
 * figures, I the observed information; the second term allows for the figures having been fitted to the same records
 *
 * @param fit - the model at its maximum likelihood
 * @returns bands (none where failures lie between two ages) and the test
 * @source Hjort (1990), "Goodness of fit tests in models for life history data based on cumulative hazard rates", Annals
 *   of Statistics 18, 1221–1258 (recalled); the choice of bands is ours
 */
export function goodnessOf(fit: Fit): Goodness {
  const { failures, intervals, nFailed } = fit.pooled
  if (intervals.counts.length > 0) return { bands: [], chiSquare: null, degreesOfFreedom: null, pValue: null }
  const nBands = Math.min(8, Math.max(3, Math.floor(nFailed / 5)))
  const expectedBy = expectedUntil(fit)
  const edges = [0, ...bandEdges(fit, nBands), fit.pooled.oldestAge]
  const cumulative = edges.map(expectedBy)
  const bands: AgeBand[] = []
  for (let k = 0; k < nBands; k++) {
    const fromAge = edges[k] ?? 0
    const toAge = edges[k + 1] ?? 0
    let seen = 0
    for (let i = 0; i < failures.ages.length; i++) {
      const age = failures.ages[i] ?? 0
      if (age > fromAge && age <= toAge) seen += failures.weights[i] ?? 0
    }
    bands.push({ fromAge, toAge, seen, expected: (cumulative[k + 1]?.value ?? 0) - (cumulative[k]?.value ?? 0) })
  }
  if (nFailed < 10) return { bands, chiSquare: null, degreesOfFreedom: null, pValue: null }
  const slopes = bands.map((_, k) =>
    fit.x.map((__, a) => (cumulative[k + 1]?.gradient[a] ?? 0) - (cumulative[k]?.gradient[a] ?? 0)),
  )
  const distance = bands.map(band => band.seen - band.expected)
  const covariance = bands.map((band, r) =>
    bands.map((_, c) => {
      let shared = 0
      fit.covariance.forEach((row, a) => {
        row.forEach((value, b) => {
          shared += (slopes[r]?.[a] ?? 0) * value * (slopes[c]?.[b] ?? 0)
        })
      })
      return (r === c ? band.expected : 0) - shared
    }),
  )
  // The fit makes the totals of seen and expected equal, or nearly so: one band follows from the others and is left out.
  const n = nBands - 1
  const matrix = covariance.slice(0, n).map(row => row.slice(0, n))
  const weighted = cholesky(matrix) === null ? null : solve(matrix, distance.slice(0, n))
  if (weighted === null) return { bands, chiSquare: null, degreesOfFreedom: null, pValue: null }
  const chiSquare = weighted.reduce((sum, value, k) => sum + value * (distance[k] ?? 0), 0)
  return { bands, chiSquare, degreesOfFreedom: n, pValue: chiSquareTail(chiSquare, n) }
}

/** Failures the model expects among the units as they were watched, up to an age, with slopes in the free figures. */
function expectedUntil(fit: Fit): (age: number) => Expansion {
  const { exposures } = fit.pooled
  const sum = hazardSumOf(fit.form)
  return age => {
    let value = 0
    let over = 0
    const gradient = fit.x.map(() => 0)
    const add = (weight: number, here: Expansion): void => {
      value += weight * here.value
      for (let a = 0; a < gradient.length; a++) gradient[a] = (gradient[a] ?? 0) + weight * (here.gradient[a] ?? 0)
    }
    for (let i = 0; i < exposures.ages.length; i++) {
      const own = exposures.ages[i] ?? 0
      if (own < age) add(exposures.weights[i] ?? 0, sum(fit.x, Math.log(own)))
      else over += exposures.weights[i] ?? 0
    }
    if (age > 0) add(over, sum(fit.x, Math.log(age)))
    return { value, gradient, hessian: [] }
  }
}

/** Ages that split the expected failures into equal parts. */
function bandEdges(fit: Fit, nBands: number): number[] {
  const { exposures, oldestAge } = fit.pooled
  const modes = modesOfForm(fit.form, fit.x).map(plainMode)
  const hazardAt = (age: number): number => modes.reduce((sum, mode) => sum + modeSum(mode, Math.log(age)), 0)
  const n = exposures.ages.length
  // Expected by an age: Σ weight·H(own age) of those that left before, and H(age) of the others.
  const left = new Float64Array(n + 1)
  const gone = new Float64Array(n + 1)
  for (let i = 0; i < n; i++) {
    left[i + 1] = (left[i] ?? 0) + (exposures.weights[i] ?? 0) * hazardAt(exposures.ages[i] ?? 0)
    gone[i + 1] = (gone[i] ?? 0) + (exposures.weights[i] ?? 0)
  }
  const expectedBy = (age: number): number => {
    const place = firstIndex(n, i => (exposures.ages[i] ?? 0) >= age)
    return (left[place] ?? 0) + ((gone[n] ?? 0) - (gone[place] ?? 0)) * hazardAt(age)
  }
  const total = expectedBy(oldestAge)
  const edges: number[] = []
  for (let k = 1; k < nBands; k++) {
    edges.push(bisect(0, oldestAge, 40, age => expectedBy(age) < (total * k) / nBands).high)
  }
  return edges
}
