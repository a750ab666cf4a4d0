/**
 * Downtime as a few values with their probabilities: the sum of delays that are each fixed or lognormal (O1).
 */

import { lognormalMean, lognormalSigma } from '../distributions/lognormal.ts'
import { square } from '../power.ts'
import type { DelayNodes } from './renewal.ts'

/** One delay of a downtime: fixed, or lognormal (O1). */
export interface DelaySpread {
  /** Median, or the fixed delay; days, >= 0. */
  readonly medianDays: number
  /** 90 % point over median, >= 1; 1 for a fixed delay. */
  readonly p90OverMedian: number
}

/**
 * Nodes and weights of Gauss–Hermite quadrature with eight points, for the weight exp(−x²); the other four mirror them.
 *
 * @source M. ABRAMOWITZ, I. STEGUN (1964), Handbook of Mathematical Functions, table 25.10
 */
const HERMITE: readonly (readonly [node: number, weight: number])[] = [
  [0.381186990207322, 0.6611470125582413],
  [1.1571937124467802, 0.2078023258148919],
  [1.981656756695843, 0.01707798300741348],
  [2.930637420257244, 0.0001996040722113676],
]

/** Most nodes kept. Ours: 24 change expected failures by under 1e-6 for the delays of the evidence. */
const MOST_NODES = 24

/**
 * The sum of independent delays as values with probabilities: exact in its mean, close in its spread (O1, X1).
 *
 * @param delays - each fixed or lognormal
 * @param daysPerYear - days of a model year, > 0
 * @returns at most 24 nodes in years, ascending; one for fixed delays alone
 * @throws RangeError where a p90 is under its median
 * @example downtimeNodes([{ medianDays: 73, p90OverMedian: 1 }, { medianDays: 292, p90OverMedian: 1 }], 365).nodesYears[0] // 1
 */
export function downtimeNodes(delays: readonly DelaySpread[], daysPerYear: number): DelayNodes {
  let sum: Mass[] = [{ value: 0, weight: 1 }]
  for (const delay of delays) {
    const masses = massesOf(delay)
    sum = merged(sum.flatMap(a => masses.map(b => ({ value: a.value + b.value, weight: a.weight * b.weight }))))
  }
  return {
    nodesYears: Float64Array.from(sum, mass => mass.value / daysPerYear),
    weights: Float64Array.from(sum, mass => mass.weight),
  }
}

/** A value and its probability. */
interface Mass {
  readonly value: number
  readonly weight: number
}

function massesOf(delay: DelaySpread): Mass[] {
  const sigma = lognormalSigma(delay.p90OverMedian)
  if (sigma === 0 || delay.medianDays === 0) return [{ value: delay.medianDays, weight: 1 }]
  const masses = HERMITE.flatMap(([node, weight]) =>
    [-node, node].map(x => ({ value: Math.exp(Math.SQRT2 * sigma * x), weight: weight / Math.sqrt(Math.PI) })),
  )
  // Eight points miss the mean of a very wide lognormal by a little; the number of failures depends on the mean.
  const mean = masses.reduce((total, mass) => total + mass.weight * mass.value, 0)
  const scale = lognormalMean(delay.medianDays, sigma) / mean
  return masses.map(mass => ({ value: mass.value * scale, weight: mass.weight }))
}

/** Joins neighbours, always the two whose joining loses least variance, until few enough are left. */
function merged(masses: readonly Mass[]): Mass[] {
  const left = [...masses].sort((a, b) => a.value - b.value)
  while (left.length > MOST_NODES) {
    let best = 0
    let least = Number.POSITIVE_INFINITY
    for (let i = 0; i + 1 < left.length; i++) {
      const loss = varianceLost(left[i], left[i + 1])
      if (loss < least) {
        least = loss
        best = i
      }
    }
    const [a, b] = left.slice(best, best + 2)
    if (a === undefined || b === undefined) break
    const weight = a.weight + b.weight
    left.splice(best, 2, { value: (a.weight * a.value + b.weight * b.value) / weight, weight })
  }
  return left
}

function varianceLost(a: Mass | undefined, b: Mass | undefined): number {
  if (a === undefined || b === undefined) return Number.POSITIVE_INFINITY
  return ((a.weight * b.weight) / (a.weight + b.weight)) * square(b.value - a.value)
}
