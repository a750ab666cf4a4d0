import { cholesky, solve } from '../../numerics/linear-system.ts'
import { square } from '../../numerics/power.ts'
import { openStream, type Stream, streamKey } from '../../numerics/random/streams.ts'
import { normalQuantile } from '../../numerics/special.ts'
import { sumOf } from '../../numerics/sum.ts'
import type { Addition, Fit } from './fit-model.ts'
import { coordinatesOf, type FittedMode, type Form, figuresAt, modesOfForm } from './form.ts'
import { logLikelihoodOf } from './likelihood.ts'
import { LIFE, modeSum, plainMode, SHAPE, SHARE } from './mode-terms.ts'
import type { Pool } from './pool.ts'
import { type CoordinateNormals, sumOfNormals } from './prior.ts'
import { logAgeAtHazard } from './quantity.ts'
import { straightCoordinates } from './straight-coordinates.ts'

/** Equally likely sets of figures that the records allow, together. */
export interface JointDraws {
  /** In rising order of mean life. */
  readonly draws: readonly (readonly FittedMode[])[]
  /** How many independent draws the weighted ones are worth. */
  readonly effectiveDraws: number
}

/** Number of equally likely sets passed on (ours: 200 keep a file small and still resolve a 1 % point). */
export const N_DRAWS = 200

/**
 * Draws of all figures of a model together, as the likelihood (times the prior, if any) weighs them.
 *
 * Importance sampling: points of a multivariate Student distribution with 4 degrees of freedom around the maximum of the
 * likelihood (in straight-coordinates.ts) are weighted by likelihood over proposal; where they are worth less than half
 * as many equal ones, the proposal is fitted to them, up to three times. Of the best round, sorted by mean life, every
 * 200th part of the weight gives one set. The prior is flat in ln shape (from 0.2 to 20, our limits: without them,
 * late-watched units leave it unbounded) and ln life for one curve. With several modes it is wide (our choice): ln
 * shape normal around ln 1.5 with deviation 1, ln life normal around that of the oldest age + 1 with deviation 2,
 * susceptible share uniform.
 *
 * @param fit - the model at its maximum likelihood
 * @param name - keys the random stream with the seed (N3)
 * @param seed - whole number
 * @param addition - logarithm of a prior; none unless given
 * @returns 200 sets; null where the limits of shapes and lives leave none, which happens for impossible records only
 * @source sampling importance resampling: Rubin (1988); adaptive rounds: Cappé et al. (2004), J. Comput. Graph. Statist.
 *   13, 907–929 (recalled)
 */
export function jointDraws(fit: Fit, name: string, seed: number, addition?: Addition): JointDraws | null {
  const { form, pooled } = fit
  const likelihood = logLikelihoodOf(pooled, form)
  const added = addition?.(form)
  const oldest = Math.log(pooled.oldestAge)
  const wide = widePrior(form, oldest)
  const shares = coordinatesOf(form).map(({ place }) => place === SHARE)
  const logDensity = (x: readonly number[]): number => {
    if (!withinLimits(form, x, oldest)) return -Infinity
    let value = likelihood(x) + (added?.(x).value ?? 0) + sumOfNormals(x, wide).value
    x.forEach((z, i) => {
      if (shares[i] === true) value += -Math.abs(z) - 2 * Math.log1p(Math.exp(-Math.abs(z)))
    })
    return value
  }
  const nPoints = pooled.exposures.ages.length > 1000 ? FEWER_POINTS : N_POINTS
  const key = streamKey(seed, `fit ${name} ${fit.model.name}`)
  const straight = straightCoordinates(form, Math.log(typicalAge(pooled)))
  const logStraight = (y: readonly number[]): number => logDensity(straight.toX(y)) + straight.logStretch(y)
  let centre: readonly number[] = straight.fromX(fit.x)
  let spread: readonly (readonly number[])[] = straight
    .covariance(fit.x, fit.covariance)
    .map(row => row.map(value => 1.3 * value))
  let weighted = weigh(centre, spread, logStraight, nPoints, openStream(key, 0))
  for (let round = 1; round <= 3 && weighted.effective < nPoints / 2; round++) {
    const moments = momentsOf(weighted)
    if (moments === null) break
    centre = moments.mean
    spread = moments.covariance
    const next = weigh(centre, spread, logStraight, nPoints, openStream(key, round))
    if (next.effective > weighted.effective) weighted = next
  }
  if (!Number.isFinite(weighted.effective)) return null
  const inCoordinates = { ...weighted, points: weighted.points.map(straight.toX) }
  return { draws: resample(form, inCoordinates), effectiveDraws: weighted.effective }
}

/** The age by which half of the failures had happened. */
function typicalAge({ failures, intervals, nFailed, oldestAge }: Pool): number {
  const ages: [age: number, count: number][] = [...failures.ages].map((age, i) => [age, failures.weights[i] ?? 0])
  intervals.counts.forEach((count, i) => {
    ages.push([((intervals.afterAges[i] ?? 0) + (intervals.beforeAges[i] ?? 0)) / 2, count])
  })
  ages.sort((a, b) => a[0] - b[0])
  let reached = 0
  for (const [age, count] of ages) {
    reached += count
    if (2 * reached >= nFailed) return age
  }
  return oldestAge
}

interface Weighted {
  readonly points: readonly (readonly number[])[]
  /** Sum 1. */
  readonly weights: Float64Array
  readonly effective: number
}

const FREEDOM = 4

/** Points weighed (ours: ten a set passed on). */
const N_POINTS = 2000

/** Fewer where ages are very many: the likelihood is then so near to a normal that nearly all points count. */
const FEWER_POINTS = 600

function weigh(
  centre: readonly number[],
  spread: readonly (readonly number[])[],
  logDensity: (x: readonly number[]) => number,
  nPoints: number,
  stream: Stream,
): Weighted {
  const n = centre.length
  const root = cholesky(spread) ?? spread.map((row, r) => row.map((value, c) => (r === c ? Math.sqrt(value) : 0)))
  const points: number[][] = []
  const logs = new Float64Array(nPoints)
  let largest = -Infinity
  for (let i = 0; i < nPoints; i++) {
    const normal = Array.from({ length: n }, () => normalQuantile(stream.uniform()))
    const chi = 2 * (stream.exponential() + stream.exponential()) // χ² with 4 degrees of freedom
    const stretch = Math.sqrt(FREEDOM / chi)
    points.push(
      centre.map((value, r) => {
        let sum = value
        for (let c = 0; c <= r; c++) sum += (root[r]?.[c] ?? 0) * (normal[c] ?? 0) * stretch
        return sum
      }),
    )
    const length = (normal.reduce((sum, value) => sum + value * value, 0) * FREEDOM) / chi
    const logProposal = (-(FREEDOM + n) / 2) * Math.log1p(length / FREEDOM)
    logs[i] = logDensity(points[i] ?? centre) - logProposal
    largest = Math.max(largest, logs[i] ?? -Infinity)
  }
  const weights = logs.map(value => Math.exp(value - largest))
  const total = sumOf(weights)
  let squares = 0
  for (let i = 0; i < nPoints; i++) {
    weights[i] = (weights[i] ?? 0) / total
    squares += square(weights[i] ?? 0)
  }
  return { points, weights, effective: 1 / squares }
}

function momentsOf({ points, weights }: Weighted): { mean: number[]; covariance: number[][] } | null {
  const n = points[0]?.length ?? 0
  const mean = new Array<number>(n).fill(0)
  points.forEach((point, i) => {
    for (let a = 0; a < n; a++) mean[a] = (mean[a] ?? 0) + (weights[i] ?? 0) * (point[a] ?? 0)
  })
  const covariance = mean.map((_, a) =>
    mean.map((__, b) =>
      points.reduce(
        (sum, point, i) =>
          sum + (weights[i] ?? 0) * ((point[a] ?? 0) - (mean[a] ?? 0)) * ((point[b] ?? 0) - (mean[b] ?? 0)),
        0,
      ),
    ),
  )
  return cholesky(covariance) === null || solve(covariance, mean) === null ? null : { mean, covariance }
}

function resample(form: Form, { points, weights }: Weighted): FittedMode[][] {
  const useful = points.map((_, i) => i).filter(i => (weights[i] ?? 0) > 1e-9)
  const lives = new Map(useful.map(i => [i, meanLifeOf(form, points[i] ?? [])]))
  const order = useful.sort((a, b) => (lives.get(a) ?? 0) - (lives.get(b) ?? 0) || a - b)
  const total = order.reduce((sum, i) => sum + (weights[i] ?? 0), 0)
  const chosen: FittedMode[][] = []
  let reached = 0
  for (const i of order) {
    reached += (weights[i] ?? 0) / total
    while (chosen.length < N_DRAWS && (chosen.length + 0.5) / N_DRAWS <= reached)
      chosen.push(figuresAt(form, points[i] ?? []))
  }
  while (chosen.length < N_DRAWS) chosen.push(figuresAt(form, points[order.at(-1) ?? 0] ?? []))
  return chosen
}

/** Mean life, good to three digits: only the order of the draws depends on it. */
function meanLifeOf(form: Form, x: readonly number[]): number {
  const modes = modesOfForm(form, x).map(plainMode)
  const top = logAgeAtHazard(form, x, 30)
  const step = 0.1
  let sum = 0
  for (let logAge = top; logAge > top - 25; logAge -= step) {
    let hazard = 0
    for (const mode of modes) hazard += modeSum(mode, logAge)
    sum += step * Math.exp(logAge - hazard)
  }
  return sum
}

function widePrior(form: Form, logOldest: number): CoordinateNormals {
  return coordinatesOf(form).map(({ place }) => {
    if (form.modes.length === 1 || place === SHARE) return null
    return place === SHAPE ? { mean: Math.log(1.5), deviation: 1 } : { mean: logOldest + 1, deviation: 2 }
  })
}

const LEAST_LOG_SHAPE = Math.log(0.2)
const MOST_LOG_SHAPE = Math.log(20)

/** Farthest that a life may lie from the oldest age, up or down; ours: 10^12 times, far beyond any record. */
const MOST_LOG_LIFE = Math.log(1e12)

/**
 * Shapes and lives inside the limits; and causes of equal kind in the order of their shapes, else one set would count
 * twice.
 */
function withinLimits(form: Form, x: readonly number[], logOldest: number): boolean {
  const coordinates = coordinatesOf(form)
  for (let i = 0; i < x.length; i++) {
    const value = x[i] ?? 0
    if (coordinates[i]?.place === SHAPE && (value < LEAST_LOG_SHAPE || value > MOST_LOG_SHAPE)) return false
    if (coordinates[i]?.place === LIFE && Math.abs(value - logOldest) > MOST_LOG_LIFE) return false
  }
  if (form.modes.length === 1 || form.modes.some(mode => mode.share !== 1)) return true
  for (let m = 1; m < form.modes.length; m++) if ((x[2 * m] ?? 0) < (x[2 * m - 2] ?? 0)) return false
  return true
}
