import { cholesky, type Matrix, solve } from './linear-system.ts'

/** A smooth function at one point, with its first and second derivatives. */
export interface Expansion {
  readonly value: number
  readonly gradient: readonly number[]
  readonly hessian: Matrix
}

/** Where a climb ended. */
export interface Maximum extends Expansion {
  readonly x: readonly number[]
  /** Whether the point satisfies the condition for a maximum to working precision. */
  readonly converged: boolean
  readonly steps: number
}

/** Limits of a climb. */
export interface ClimbOptions {
  /** Longest change of one coordinate in a step, > 0; 1.5 unless given (coordinates are logarithms in the fits). */
  readonly longestStep?: number
  /** Steps before giving up; 100 unless given. */
  readonly mostSteps?: number
}

/**
 * The nearest maximum of a smooth function, by Newton steps that are damped where the function is not concave and
 * shortened until they climb.
 *
 * Stops when the predicted rise, ½ gᵀ(−H)⁻¹g, is under 1e-13 · (1 + |value|) (ours: rounding of a sum of
 * log-likelihoods is of that size).
 *
 * @param evaluate - value and derivatives at a point; a value that is not finite marks a point out of bounds
 * @param start - where the climb begins; its value must be finite
 * @param options - see `ClimbOptions`
 * @returns the last point reached; `converged` false where no step climbed or the steps ran out
 * @throws RangeError when the start has no finite value
 * @example maximise(([x = 0]) => ({ value: -(x - 2) * (x - 2), gradient: [-2 * (x - 2)], hessian: [[-2]] }), [0]).x // [2]
 */
export function maximise(
  evaluate: (x: readonly number[]) => Expansion,
  start: readonly number[],
  options: ClimbOptions = {},
): Maximum {
  const longestStep = options.longestStep ?? 1.5
  const mostSteps = options.mostSteps ?? 100
  let x = [...start]
  let here = evaluate(x)
  if (!Number.isFinite(here.value)) throw new RangeError('the climb starts at a point without a finite value')
  for (let steps = 0; steps < mostSteps; steps++) {
    const { step, damped } = ascent(here)
    const promised = dot(here.gradient, step) / 2
    if (!damped && promised < 1e-13 * (1 + Math.abs(here.value))) {
      // One last full step costs nothing and gives the digits the stopping rule leaves open.
      const last = x.map((value, i) => value + (step[i] ?? 0))
      const there = evaluate(last)
      return there.value >= here.value
        ? { ...there, x: last, converged: true, steps }
        : { ...here, x, converged: true, steps }
    }
    const longest = Math.max(...step.map(Math.abs))
    let scale = longest > longestStep ? longestStep / longest : 1
    let moved = false
    for (let halvings = 0; halvings < 40; halvings++) {
      const next = x.map((value, i) => value + scale * (step[i] ?? 0))
      const there = evaluate(next)
      if (Number.isFinite(there.value) && there.value > here.value + 1e-4 * scale * dot(here.gradient, step)) {
        x = next
        here = there
        moved = true
        break
      }
      scale /= 2
    }
    // No step climbs: at a maximum to working precision, or stuck.
    if (!moved) return { ...here, x, converged: !damped && promised < 1e-8 * (1 + Math.abs(here.value)), steps }
  }
  return { ...here, x, converged: false, steps: mostSteps }
}

/** The Newton step where the function is concave; else one with a diagonal added until it is. */
function ascent(here: Expansion): { step: number[]; damped: boolean } {
  const n = here.gradient.length
  const scale = Math.max(1e-8, ...here.hessian.map((row, i) => Math.abs(row[i] ?? 0)))
  let added = 0
  for (let tries = 0; tries < 40; tries++) {
    const negative = here.hessian.map((row, r) => row.map((value, c) => -value + (r === c ? added : 0)))
    if (cholesky(negative) !== null) {
      const step = solve(negative, here.gradient)
      if (step !== null) return { step, damped: added > 0 }
    }
    added = added === 0 ? scale * 1e-4 : added * 4
  }
  return { step: here.gradient.map(value => value / (scale * n)), damped: true }
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0)
  return sum
}
