import type { FigureResult, FitResult, GroupResult, ModelResult, ModeResult } from '../../fitting/fit-result.ts'
import { power } from '../../numerics/power.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'

const NBSP = '\u00a0'

/** What the sections of the fit report share: how ages are written. */
export interface FitWords {
  /** An age with its unit, three digits at most. */
  age(value: number): string
  /** A range of ages; a missing bound is put in words. */
  ageRange(bounds: readonly [number | null, number | null]): string
  shareRange(bounds: readonly [number | null, number | null]): string
  numberRange(bounds: readonly [number | null, number | null]): string
}

/**
 * Words for one fit.
 *
 * @param result - the fit, for its age unit
 */
export function wordsFor(result: FitResult): FitWords {
  const unit = result.ageUnit
  const age = (value: number): string => `${figure(value)}${NBSP}${figure(value) === '1' ? unit.slice(0, -1) : unit}`
  const range = (bounds: readonly [number | null, number | null], write: (value: number) => string): string => {
    const [low, high] = bounds
    if (low === null && high === null) return 'no limit either way'
    if (low === null) return `up to ${write(high ?? 0)}`
    return high === null ? `${write(low)} or more` : `${write(low)} to ${write(high)}`
  }
  return {
    age,
    ageRange: bounds =>
      range(bounds, value => (value === bounds[0] && bounds[1] !== null ? figure(value) : age(value))),
    shareRange: bounds => range(bounds, shareWords),
    numberRange: bounds => range(bounds, figure),
  }
}

/**
 * A share: whole per cent, two digits under ten per cent.
 *
 * @param value - [0, 1]
 */
export function shareWords(value: number): string {
  return value >= 0.0005 && value < 0.095 ? `${Number((100 * value).toPrecision(2))}${NBSP}%` : formatShare(value)
}

/**
 * A figure with three significant digits.
 *
 * @param value - any number
 * @returns '' for one that is not finite
 * @example figure(0.12345) // '0.123'
 */
export function figure(value: number): string {
  if (!Number.isFinite(value)) return ''
  if (Math.abs(value) < 1e-12) return '0' // ticks near 0 are rounding
  const rounded = Number(value.toPrecision(3))
  const step = power(10, Math.min(0, Math.floor(Math.log10(Math.abs(rounded))) - 2))
  return formatNumber(rounded, step)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '')
}

/**
 * The model in use of a group.
 *
 * @param group - its results
 * @returns null where none could be fitted
 */
export function bestModel(group: GroupResult): ModelResult | null {
  return group.models.find(model => model.name === group.best) ?? null
}

/**
 * What a shape means, in words.
 *
 * @param shape - estimate with interval, or only the estimate
 */
export function shapeWords(shape: Pick<FigureResult, 'estimate'> & Partial<FigureResult>): string {
  const [low, high] = shape.profile90 ?? [null, null]
  if (low !== null && low > 1) {
    return shape.estimate < 2
      ? 'The risk rises slowly with age.'
      : 'The risk rises with age: an old unit is more likely to fail in its next year than a young one.'
  }
  if (high !== null && high < 1) return 'The risk falls with age: what survives its first years tends to last.'
  return 'The records do not show whether the risk rises or falls with age.'
}

/**
 * Share failed by an age under the modes of a model.
 *
 * @param modes - lives in the unit of the age
 * @param age - >= 0
 * @returns [0, 1]
 */
export function shareFailedWords(
  modes: readonly Pick<ModeResult, 'shape' | 'characteristicLife' | 'susceptible'>[],
  age: number,
): number {
  let hazard = 0
  for (const { shape, characteristicLife, susceptible } of modes) {
    hazard -= Math.log1p(susceptible * Math.expm1(-power(age / characteristicLife, shape)))
  }
  return -Math.expm1(-hazard)
}
