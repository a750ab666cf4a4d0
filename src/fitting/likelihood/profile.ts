import { quadraticForm, solve } from '../../numerics/linear-system.ts'
import type { Expansion } from '../../numerics/newton.ts'
import { normalQuantile } from '../../numerics/special.ts'
import type { Fit } from './fit-model.ts'
import type { FitQuantity } from './quantity.ts'

/** Lower and upper bound; null where the records set none. */
export type ProfileInterval = readonly [low: number | null, high: number | null]

/** A figure with its error and its profile-likelihood intervals. */
export interface ProfiledEstimate {
  readonly estimate: number
  /** By the delta method, of the figure itself. */
  readonly standardError: number
  readonly profile90: ProfileInterval
  readonly profile95: ProfileInterval
}

/**
 * A figure of a fit with error and intervals.
 *
 * @param fit - the model at its maximum likelihood
 * @param quantity - the figure
 * @returns estimate, delta-method standard error, profile-likelihood intervals of 90 % and 95 %
 */
export function estimateOf(fit: Fit, quantity: FitQuantity): ProfiledEstimate {
  return {
    ...profiledEstimate(fit, quantity),
    profile90: profileBounds(fit, quantity, 0.9),
    profile95: profileBounds(fit, quantity, 0.95),
  }
}

/**
 * A figure of a fit with its error alone.
 *
 * @param fit - the model at its maximum likelihood
 * @param quantity - the figure
 * @returns estimate and delta-method standard error
 */
export function profiledEstimate(
  fit: Fit,
  quantity: FitQuantity,
): Pick<ProfiledEstimate, 'estimate' | 'standardError'> {
  const scaled = quantity.at(fit.x)
  // Slope of the figure on its scale, by a symmetric difference.
  const step = 1e-5
  const slope = (quantity.figure(scaled + step) - quantity.figure(scaled - step)) / (2 * step)
  return { estimate: quantity.figure(scaled), standardError: Math.abs(slope) * deltaStandardError(fit, quantity) }
}

/**
 * Standard error of a figure on its own scale, by the delta method.
 *
 * @param fit - the model at its maximum likelihood
 * @param quantity - the figure
 * @returns >= 0
 */
export function deltaStandardError(fit: Fit, quantity: FitQuantity): number {
  return Math.sqrt(Math.max(0, quadraticForm(fit.covariance, quantity.gradient(fit.x))))
}

/**
 * Profile-likelihood interval: the values of a figure for which some choice of all else makes the records nearly as
 * likely as the best fit does: 2 (ln L max − ln L at the value) <= χ² quantile, 1 degree of freedom.
 *
 * @param fit - the model at its maximum likelihood
 * @param quantity - the figure
 * @param confidence - (0, 1)
 * @returns bounds of the figure, lower first; null where the likelihood never falls that far within e^±12 of the
 * estimate, or where the search fails
 * @source Meeker & Escobar (1998), Statistical Methods for Reliability Data, section 8.3 (recalled)
 */
export function profileBounds(fit: Fit, quantity: FitQuantity, confidence: number): ProfileInterval {
  const depth = normalQuantile(0.5 + confidence / 2)
  const low = boundOn(fit, quantity, -1, depth)
  const high = boundOn(fit, quantity, 1, depth)
  return [low === null ? null : quantity.figure(low), high === null ? null : quantity.figure(high)]
}

const FARTHEST = 12

/** The scale value at which √(2·fall of the likelihood) reaches `depth`, on one side. */
function boundOn(fit: Fit, quantity: FitQuantity, side: -1 | 1, depth: number): number | null {
  const centre = quantity.at(fit.x)
  const error = deltaStandardError(fit, quantity)
  if (!(error > 0) || !Number.isFinite(error)) return null
  let x: readonly number[] = fit.x
  const fallAt = (distance: number): number | null => {
    const top = constrainedTop(fit, quantity, centre + side * distance, x)
    if (top === null) return null
    x = top.x
    return Math.sqrt(Math.max(0, 2 * (fit.pooledMaximum - top.value)))
  }
  let near = 0
  let nearFall = 0
  let far = Math.min(depth * error, 1.5)
  let farFall = fallAt(far)
  for (let tries = 0; farFall !== null && farFall < depth; tries++) {
    near = far
    nearFall = farFall
    if (tries > 60 || far > FARTHEST) return null
    const aimed = farFall > 0 ? (far * depth * 1.05) / farFall : 2 * far
    far = Math.min(aimed, far + 1.5)
    farFall = fallAt(far)
  }
  if (farFall === null) return null
  let [before, beforeFall] = [near, nearFall]
  let [last, lastFall] = [far, farFall]
  for (let i = 0; i < 60 && far - near > 1e-10 * (1 + Math.abs(centre)); i++) {
    if (Math.abs(lastFall - depth) < 1e-8) return centre + side * last
    // Secant through the last two points: the fall is nearly a straight line. Halves where that leaves the bracket.
    const aimed = last - ((lastFall - depth) * (last - before)) / (lastFall - beforeFall)
    const next = aimed > near && aimed < far ? aimed : (near + far) / 2
    const fall = fallAt(next)
    if (fall === null) return null
    ;[before, beforeFall, last, lastFall] = [last, lastFall, next, fall]
    if (fall < depth) near = next
    else far = next
  }
  return centre + side * last
}

/**
 * The maximum of the likelihood among the points where the quantity has a given value: Newton steps on the conditions of
 * Lagrange, shortened until likelihood and constraint together improve.
 */
function constrainedTop(
  fit: Fit,
  quantity: FitQuantity,
  target: number,
  start: readonly number[],
): { x: readonly number[]; value: number } | null {
  let x = start
  let here = fit.evaluate(x)
  let held = quantity.constraint(x, target)
  let multiplier = 0
  let penalty = 1
  for (let steps = 0; steps < 80; steps++) {
    const system = lagrangeStep(here, held, multiplier)
    if (system === null) return null
    multiplier = system.multiplier
    const longest = Math.max(...system.step.map(Math.abs))
    const gradientLeft = here.gradient.map((value, i) => value - multiplier * (held.gradient[i] ?? 0))
    const size = 1 + Math.abs(here.value)
    if (Math.abs(held.value) < 1e-11 && Math.max(...gradientLeft.map(Math.abs)) < 1e-7 * size && longest < 1e-6) {
      return { x, value: here.value }
    }
    if (longest < 1e-12) return Math.abs(held.value) < 1e-9 ? { x, value: here.value } : null
    penalty = Math.max(penalty, 2 * Math.abs(multiplier))
    const merit = here.value - penalty * Math.abs(held.value)
    let scale = Math.min(1, 1 / longest)
    let moved = false
    for (let halvings = 0; halvings < 40; halvings++) {
      const next = x.map((value, i) => value + scale * (system.step[i] ?? 0))
      const there = fit.evaluate(next)
      const heldThere = quantity.constraint(next, target)
      const meritThere = there.value - penalty * Math.abs(heldThere.value)
      if (Number.isFinite(meritThere) && meritThere > merit - 1e-12 * size) {
        x = next
        here = there
        held = heldThere
        moved = true
        break
      }
      scale /= 2
    }
    if (!moved) return Math.abs(held.value) < 1e-8 ? { x, value: here.value } : null
  }
  return Math.abs(held.value) < 1e-8 ? { x, value: here.value } : null
}

/** One step of Newton's method on: gradient of ln L = multiplier · gradient of the constraint; constraint = 0. */
function lagrangeStep(
  here: Expansion,
  held: Expansion,
  multiplier: number,
): { step: number[]; multiplier: number } | null {
  const n = here.gradient.length
  const curve = here.hessian.map((row, r) => row.map((value, c) => value - multiplier * (held.hessian[r]?.[c] ?? 0)))
  const scale = Math.max(1e-8, ...curve.map((row, i) => Math.abs(row[i] ?? 0)))
  let added = 0
  for (let tries = 0; tries < 30; tries++) {
    const matrix = curve.map((row, r) => [
      ...row.map((value, c) => value - (r === c ? added : 0)),
      -(held.gradient[r] ?? 0),
    ])
    matrix.push([...held.gradient.map(value => -value), 0])
    const solution = solve(matrix, [...here.gradient.map(value => -value), held.value])
    if (solution !== null) {
      const step = solution.slice(0, n)
      // Along the constraint the likelihood must be concave for the step to climb.
      if (n === 1 || quadraticForm(curve, step) - added * dot(step, step) < 0 || dot(step, step) < 1e-20) {
        return { step, multiplier: solution[n] ?? 0 }
      }
    }
    added = added === 0 ? scale * 1e-3 : added * 4
  }
  return null
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0)
  return sum
}
