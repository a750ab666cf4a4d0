import { inverse, type Matrix, solve } from '../../numerics/linear-system.ts'
import { type Expansion, type Maximum, maximise } from '../../numerics/newton.ts'
import { power } from '../../numerics/power.ts'
import type { AgeUnit } from '../age-unit.ts'
import type { FailureModel } from '../models/model.ts'
import type { LifeRows } from '../rows.ts'
import { coarseRows, MANY_ROWS } from './coarse-rows.ts'
import { type FittedMode, type Form, figuresAt } from './form.ts'
import { likelihoodOf } from './likelihood.ts'
import { type Pool, pool } from './pool.ts'

/** A model at its maximum likelihood. */
export interface Fit {
  readonly model: FailureModel
  readonly form: Form
  /** The records the search and the intervals use; ages rounded to three digits where there are very many. */
  readonly pooled: Pool
  /** The free figures in the coordinates of the fit. */
  readonly x: readonly number[]
  readonly modes: readonly FittedMode[]
  /** Of the records as they are. */
  readonly logLikelihood: number
  /** Maximum of the likelihood of `pooled`, from which profile intervals count. */
  readonly pooledMaximum: number
  /** Of the free figures in their coordinates: inverse of the observed information. */
  readonly covariance: Matrix
  /** Likelihood, or likelihood times prior, of `pooled`. */
  readonly evaluate: (x: readonly number[]) => Expansion
}

/** Adds something to a log-likelihood, e.g. the logarithm of a prior. */
export type Addition = (form: Form) => (x: readonly number[]) => Expansion

/** Records ready to be fitted. */
export interface FitData {
  /** As they are. */
  readonly exact: Pool
  /** For the intervals, of `coarse`. */
  readonly search: Pool
  /** For the climb from each start: ages rounded to two digits where they are many. */
  readonly sketch: Pool
  /** The rows themselves, or where there are very many with ages rounded to three digits; for curves and checks. */
  readonly coarse: LifeRows
}

/** Different ages above which the climb from a start works on a sketch (ours). */
const MANY_AGES = 400

/**
 * Prepares the records of a group for `fitModel`.
 *
 * @param rows - the records
 */
export function fitDataOf(rows: LifeRows): FitData {
  const coarse = rows.counts.length > MANY_ROWS ? coarseRows(rows, 3) : rows
  const search = pool(coarse)
  return {
    exact: coarse === rows ? search : pool(rows, false),
    search,
    sketch: search.exposures.ages.length > MANY_AGES ? pool(coarseRows(coarse, 2)) : search,
    coarse,
  }
}

/** A shape outside these is a curve drawn through one age, not a finding (limits ours). */
const SHAPE_LIMITS = { low: 0.08, high: 40 }

/**
 * The model at its maximum likelihood, searched from several starts.
 *
 * @param data - the records of one group, at least one failure
 * @param model - the model
 * @param ageUnit - unit of the ages
 * @param addition - logarithm of a prior; none unless given
 * @returns the fit; null where no start leads to a maximum inside the limits of the model
 */
export function fitModel(data: FitData, model: FailureModel, ageUnit: AgeUnit, addition?: Addition): Fit | null {
  const { exact, search: pooled, sketch } = data
  const form = model.form(ageUnit)
  const added = addition?.(form)
  const evaluate = withAddition(likelihoodOf(pooled, form), added)
  const best = bestTop(form, evaluate, pooled, sketchedStarts(data, model.starts(sketch, ageUnit), form, added))
  if (best === null) return null
  let top = best
  let logLikelihood = best.value - (added?.(best.x).value ?? 0)
  if (pooled !== exact) {
    top = lastStep(withAddition(likelihoodOf(exact, form), added), best)
    logLikelihood = top.value - (added?.(top.x).value ?? 0)
  }
  const covariance = inverse(top.hessian.map(row => row.map(value => -value)))
  if (covariance === null || covariance.some((row, i) => !((row[i] ?? 0) > 0))) return null
  const ordered = orderModes(form, top.x, covariance)
  return {
    model,
    form,
    pooled,
    x: ordered.x,
    modes: figuresAt(form, ordered.x),
    logLikelihood,
    pooledMaximum: best.value,
    covariance: ordered.covariance,
    evaluate,
  }
}

/** The starts themselves, or where ages are many the best two of the maxima that they lead to on the sketch. */
function sketchedStarts(
  { search, sketch }: FitData,
  starts: readonly (readonly number[])[],
  form: Form,
  added: ((x: readonly number[]) => Expansion) | undefined,
): readonly (readonly number[])[] {
  if (sketch === search) return starts
  const evaluate = withAddition(likelihoodOf(sketch, form), added)
  const tops: Maximum[] = []
  for (const start of starts) {
    if (!Number.isFinite(evaluate(start).value)) continue
    const top = maximise(evaluate, start)
    if (top.converged && !tops.some(other => Math.abs(other.value - top.value) < 1e-6)) tops.push(top)
  }
  return tops
    .sort((a, b) => b.value - a.value)
    .slice(0, 2)
    .map(top => top.x)
}

function bestTop(
  form: Form,
  evaluate: (x: readonly number[]) => Expansion,
  pooled: Pool,
  starts: readonly (readonly number[])[],
): Maximum | null {
  let best: Maximum | null = null
  for (const start of starts) {
    if (!Number.isFinite(evaluate(start).value)) continue
    const top = maximise(evaluate, start)
    if (!top.converged || !inside(form, top.x, pooled)) continue
    if (best === null || top.value > best.value + 1e-9) best = top
  }
  return best
}

/**
 * From the maximum for rounded ages to the maximum for exact ones: one Newton step. The two lie within a hundredth of a standard
 * error, so that the parabola at the first is exact to rounding at the second, and its value is read off it.
 */
function lastStep(evaluate: (x: readonly number[]) => Expansion, from: Maximum): Maximum {
  const here = evaluate(from.x)
  const step = solve(
    here.hessian.map(row => row.map(value => -value)),
    here.gradient,
  )
  if (step === null) return { ...from, ...here }
  const climbed = here.gradient.reduce((sum, slope, i) => sum + (slope * (step[i] ?? 0)) / 2, 0)
  return { ...from, ...here, x: from.x.map((value, i) => value + (step[i] ?? 0)), value: here.value + climbed }
}

function withAddition(
  likelihood: (x: readonly number[]) => Expansion,
  added: ((x: readonly number[]) => Expansion) | undefined,
): (x: readonly number[]) => Expansion {
  if (added === undefined) return likelihood
  return x => {
    const a = likelihood(x)
    const b = added(x)
    return {
      value: a.value + b.value,
      gradient: a.gradient.map((value, i) => value + (b.gradient[i] ?? 0)),
      hessian: a.hessian.map((row, r) => row.map((value, c) => value + (b.hessian[r]?.[c] ?? 0))),
    }
  }
}

/**
 * False where the maximum lies at a limit: a shape that is a spike, a life or a share that the records do not
 * determine.
 */
function inside(form: Form, x: readonly number[], pooled: Pool): boolean {
  const modes = figuresAt(form, x)
  return modes.every((mode, index) => {
    // Two causes of one shape are one cause: the sum of their hazards is a Weibull again.
    const twin = modes.some((other, i) => i < index && Math.abs(Math.log(other.shape / mode.shape)) < 1e-3)
    const stated = form.modes[index]
    const shapeFits = stated?.shape !== null || (mode.shape > SHAPE_LIMITS.low && mode.shape < SHAPE_LIMITS.high)
    const shareFits = stated?.share !== null || (mode.share > 1e-6 && mode.share < 1 - 1e-6)
    // A mode that gives under a millionth of a failure among all units counts as absent.
    const gives = power(pooled.oldestAge / mode.life, mode.shape) * pooled.nUnits
    return shapeFits && shareFits && !twin && gives > 1e-6
  })
}

/** Modes of equal kind in order of their shape, so that 'first cause' means the same in every fit. */
function orderModes(form: Form, x: readonly number[], covariance: Matrix): { x: number[]; covariance: Matrix } {
  const alike = form.modes.every(mode => mode.shape === null && mode.life === null && mode.share === 1)
  if (!alike) return { x: [...x], covariance }
  const order = form.modes.map((_, i) => i).sort((a, b) => (x[2 * a] ?? 0) - (x[2 * b] ?? 0))
  const places = order.flatMap(mode => [2 * mode, 2 * mode + 1])
  return {
    x: places.map(place => x[place] ?? 0),
    covariance: places.map(r => places.map(c => covariance[r]?.[c] ?? 0)),
  }
}
