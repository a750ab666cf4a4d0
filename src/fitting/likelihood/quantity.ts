import type { Expansion } from '../../numerics/newton.ts'
import { coordinatesOf, type Form, modesOfForm } from './form.ts'
import { fillModeTerms, LIFE, ModeTerms, PAIR, SHAPE } from './mode-terms.ts'

/**
 * A figure that follows from a model (a shape, a B10 life, a share failed by an age), in a form in which both its error
 * and its profile bounds can be found. It is given on a scale on which its error is nearly symmetric: logarithm for
 * shapes and lives, ln(−ln(1 − share)) for shares failed, logit for the susceptible share.
 */
export interface FitQuantity {
  /** Its value on the scale, at a point of the fit. */
  at(x: readonly number[]): number
  /** Its gradient on the scale. */
  gradient(x: readonly number[]): readonly number[]
  /** 0 exactly where the quantity has the scale value `target`; with derivatives in x. */
  constraint(x: readonly number[], target: number): Expansion
  /** From the scale to the figure. */
  figure(scaled: number): number
}

/**
 * One of the free figures themselves.
 *
 * @param form - the model
 * @param index - which coordinate of the fit
 */
export function ownFigure(form: Form, index: number): FitQuantity {
  const n = coordinatesOf(form).length
  const place = coordinatesOf(form)[index]?.place ?? SHAPE
  const unit = Array.from({ length: n }, (_, i) => (i === index ? 1 : 0))
  const flat = unit.map(() => new Array<number>(n).fill(0))
  return {
    at: x => x[index] ?? 0,
    gradient: () => unit,
    constraint: (x, target) => ({ value: (x[index] ?? 0) - target, gradient: unit, hessian: flat }),
    figure: scaled => (place === SHAPE || place === LIFE ? Math.exp(scaled) : 1 / (1 + Math.exp(-scaled))),
  }
}

/**
 * The share of units failed by an age.
 * share = 1 − exp(−H(age))
 *
 * @param form - the model
 * @param age - > 0, in the age unit
 */
export function shareFailedBy(form: Form, age: number): FitQuantity {
  const sum = hazardSumOf(form)
  const logAge = Math.log(age)
  const logSum = (x: readonly number[]): Expansion => logOf(sum(x, logAge))
  return {
    at: x => logSum(x).value,
    gradient: x => logSum(x).gradient,
    constraint: (x, target) => {
      const here = logSum(x)
      return { ...here, value: here.value - target }
    },
    figure: scaled => -Math.expm1(-Math.exp(scaled)),
  }
}

/**
 * The age by which a share of units has failed, e.g. the B10 life of IEC 61649 with share 0.1.
 *
 * @param form - the model
 * @param share - (0, 1)
 */
export function ageFailed(form: Form, share: number): FitQuantity {
  const sum = hazardSumOf(form)
  const level = Math.log(-Math.log1p(-share))
  const logAgeAt = (x: readonly number[]): number => logAgeAtHazard(form, x, Math.exp(level))
  return {
    at: logAgeAt,
    gradient: x => {
      const logAge = logAgeAt(x)
      const here = sum(x, logAge)
      const slope = hazardSlope(form, x, logAge)
      return here.gradient.map(value => -value / slope)
    },
    constraint: (x, target) => {
      const here = logOf(sum(x, target))
      return { ...here, value: here.value - level }
    },
    figure: Math.exp,
  }
}

/** Shape above which no mean life is computed. Ours: no fit ends there, but a search for bounds may reach 10^9. */
const SHARPEST = 100

/**
 * The mean life of a unit.
 * mean = ∫ S(t) dt, by the trapezoid rule in ln t, which is exact to rounding for such integrands
 *
 * @param form - the model
 * @returns the figure; NaN where a shape is above 100, so that a search avoids it
 */
export function meanLifeQuantity(form: Form): FitQuantity {
  const sum = hazardSumOf(form)
  const n = coordinatesOf(form).length
  const integrate = (x: readonly number[]): Expansion => {
    const modes = modesOfForm(form, x)
    const sharp = Math.max(...modes.map(mode => Math.exp(mode.logShape)))
    if (sharp > SHARPEST) return { value: Number.NaN, gradient: [], hessian: [] }
    const step = Math.min(0.1, 0.4 / sharp)
    // From the age above which the integrand is negligible, down to the age below which e^ln t is.
    const top = logAgeAtHazard(form, x, 60)
    let value = 0
    const gradient = new Array<number>(n).fill(0)
    const hessian = gradient.map(() => new Array<number>(n).fill(0))
    for (let logAge = top; logAge > top - 45 - 10 / sharp; logAge -= step) {
      const here = sum(x, logAge)
      const weight = step * Math.exp(logAge - here.value)
      value += weight
      for (let r = 0; r < n; r++) {
        const slope = here.gradient[r] ?? 0
        gradient[r] = (gradient[r] ?? 0) - weight * slope
        const row = hessian[r]
        if (row === undefined) continue
        for (let c = 0; c < n; c++) {
          row[c] = (row[c] ?? 0) + weight * (slope * (here.gradient[c] ?? 0) - (here.hessian[r]?.[c] ?? 0))
        }
      }
    }
    return logOf({ value, gradient, hessian })
  }
  return {
    at: x => integrate(x).value,
    gradient: x => integrate(x).gradient,
    constraint: (x, target) => {
      const here = integrate(x)
      return { ...here, value: here.value - target }
    },
    figure: Math.exp,
  }
}

/**
 * The cumulative hazard of a model at an age, with derivatives in the free figures.
 *
 * @param form - the model
 * @returns a function of the free figures and ln age
 */
export function hazardSumOf(form: Form): (x: readonly number[], logAge: number) => Expansion {
  const free = coordinatesOf(form)
  const terms = form.modes.map(() => new ModeTerms())
  return (x, logAge) => {
    let value = 0
    modesOfForm(form, x).forEach((mode, m) => {
      const term = terms[m]
      if (term === undefined) return
      fillModeTerms(mode, logAge, term)
      value += term.sum
    })
    return {
      value,
      gradient: free.map(({ mode, place }) => terms[mode]?.sum1[place] ?? 0),
      hessian: free.map(a =>
        free.map(b => (a.mode === b.mode ? (terms[a.mode]?.sum2[PAIR[a.place]?.[b.place] ?? 0] ?? 0) : 0)),
      ),
    }
  }
}

/**
 * The logarithm of the age at which the cumulative hazard of a model reaches a level.
 *
 * @param form - the model
 * @param x - the free figures
 * @param level - cumulative hazard, > 0
 * @returns ln age; where a model never reaches it (every mode limited to a share), ln of 1e12 ages
 */
export function logAgeAtHazard(form: Form, x: readonly number[], level: number): number {
  const sum = hazardSumOf(form)
  let low = -30
  let high = Math.log(1e12)
  if (sum(x, high).value < level) return high
  while (sum(x, low).value > level) low *= 2
  let logAge = (low + high) / 2
  for (let i = 0; i < 200; i++) {
    const here = sum(x, logAge).value
    if (here > level) high = logAge
    else low = logAge
    const newton = logAge - (Math.log(here / level) * here) / hazardSlope(form, x, logAge)
    const next = newton > low && newton < high ? newton : (low + high) / 2
    if (Math.abs(next - logAge) < 1e-14 * (1 + Math.abs(logAge))) return next
    logAge = next
  }
  return logAge
}

/** dH/d ln t = t·h(t). */
function hazardSlope(form: Form, x: readonly number[], logAge: number): number {
  let slope = 0
  const term = new ModeTerms()
  for (const mode of modesOfForm(form, x)) {
    fillModeTerms(mode, logAge, term)
    slope += Math.exp(term.logRate + logAge)
  }
  return slope
}

function logOf(of: Expansion): Expansion {
  const gradient = of.gradient.map(value => value / of.value)
  return {
    value: Math.log(of.value),
    gradient,
    hessian: of.hessian.map((row, r) =>
      row.map((value, c) => value / of.value - (gradient[r] ?? 0) * (gradient[c] ?? 0)),
    ),
  }
}
