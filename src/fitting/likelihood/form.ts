import { LIFE, type ModeCoordinates, SHAPE, SHARE } from './mode-terms.ts'

/** One mode of a model to be fitted: each figure fixed, or null where the records decide. */
export interface FormMode {
  /** What the mode is called in fit.json and in a scenario. */
  readonly cause: string
  readonly shape: number | null
  /** In the age unit of the records. */
  readonly life: number | null
  /** 1: every unit is susceptible. */
  readonly share: number | null
}

/** A model to be fitted: a unit fails at the earliest of its modes (M1). */
export interface Form {
  readonly modes: readonly FormMode[]
}

/** A mode with its figures; `life` in the age unit of the records. */
export interface FittedMode {
  readonly cause: string
  readonly shape: number
  readonly life: number
  readonly share: number
}

/** Which figure of which mode a coordinate of the fit represents. */
export interface Coordinate {
  readonly mode: number
  /** SHAPE, LIFE or SHARE of mode-terms. */
  readonly place: number
}

/**
 * The figures that the records decide, in the order of the coordinates of the fit.
 *
 * @param form - the model
 * @returns per free figure its mode and place
 */
export function coordinatesOf(form: Form): Coordinate[] {
  const free: Coordinate[] = []
  form.modes.forEach((mode, index) => {
    if (mode.shape === null) free.push({ mode: index, place: SHAPE })
    if (mode.life === null) free.push({ mode: index, place: LIFE })
    if (mode.share === null) free.push({ mode: index, place: SHARE })
  })
  return free
}

/**
 * The modes at a point of the fit, in its coordinates.
 *
 * @param form - the model
 * @param x - one number a free figure: ln shape, ln life or logit share
 */
export function modesOfForm(form: Form, x: readonly number[]): ModeCoordinates[] {
  let next = 0
  const take = (fixed: number | null, scale: (value: number) => number): number => {
    if (fixed !== null) return scale(fixed)
    const value = x[next] ?? 0
    next++
    return value
  }
  return form.modes.map(mode => ({
    logShape: take(mode.shape, Math.log),
    logLife: take(mode.life, Math.log),
    logitShare: take(mode.share, logit),
  }))
}

/**
 * The modes at a point of the fit, as figures.
 *
 * @param form - the model
 * @param x - one number a free figure
 * @returns modes with shape, life and share
 */
export function figuresAt(form: Form, x: readonly number[]): FittedMode[] {
  return modesOfForm(form, x).map((mode, index) => ({
    cause: form.modes[index]?.cause ?? '',
    shape: form.modes[index]?.shape ?? Math.exp(mode.logShape),
    life: form.modes[index]?.life ?? Math.exp(mode.logLife),
    share: form.modes[index]?.share ?? 1 / (1 + Math.exp(-mode.logitShare)),
  }))
}

/**
 * A share on the scale of the fit.
 *
 * @param share - (0, 1]
 * @returns ln(share/(1 − share)); Infinity for 1
 */
export function logit(share: number): number {
  return Math.log(share / (1 - share))
}
