import type { FigureResult, FitResult, GroupResult, ModelResult, ModeResult } from '../../fitting/fit-result.ts'
import { formatInput, formatShare } from '../format.ts'

/** What the sections of the fit report share: how ages are written. */
export interface FitWords {
  /** An age with its unit, three digits at most. */
  age(value: number): string
  /** A range of ages; a missing bound is said. */
  ageRange(bounds: readonly [number | null, number | null]): string
  shareRange(bounds: readonly [number | null, number | null]): string
  numberRange(bounds: readonly [number | null, number | null]): string
}

/**
 * Words for one fit.
 *
 * @param result - its age unit counts
 */
export function wordsFor(result: FitResult): FitWords {
  const unit = result.ageUnit
  const age = (value: number): string => formatInput(threeDigits(value), unit)
  const range = (bounds: readonly [number | null, number | null], write: (value: number) => string): string => {
    const [low, high] = bounds
    if (low === null && high === null) return 'no limit either way'
    if (low === null) return `up to ${write(high ?? 0)}`
    return high === null ? `${write(low)} or more` : `${write(low)} to ${write(high)}`
  }
  return {
    age,
    ageRange: bounds => range(bounds, value => formatInput(threeDigits(value), bounds[1] === value ? unit : '')),
    shareRange: bounds => range(bounds, share),
    numberRange: bounds => range(bounds, value => formatInput(threeDigits(value), '')),
  }
}

/**
 * A share in a table: whole per cent, one decimal under ten.
 *
 * @param value - [0, 1]
 */
export function share(value: number): string {
  return value > 0 && value < 0.095 ? formatInput(Number((100 * value).toPrecision(2)), '%') : formatShare(value)
}

/**
 * Three significant digits.
 *
 * @param value - any finite number
 */
export function threeDigits(value: number): number {
  return Number(value.toPrecision(3))
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
      : 'The risk rises with age: old units fail more than young ones.'
  }
  if (high !== null && high < 1) return 'The risk falls with age: what survives its first years tends to last.'
  return 'Whether the risk rises or falls with age, the records do not settle.'
}

/**
 * Share failed by an age under the modes of a model.
 *
 * @param modes - lives in the unit of the age
 * @param age - >= 0
 * @returns [0, 1]
 */
export function shareFailed(
  modes: readonly Pick<ModeResult, 'shape' | 'characteristicLife' | 'susceptible'>[],
  age: number,
): number {
  let hazard = 0
  for (const { shape, characteristicLife, susceptible } of modes) {
    hazard -= Math.log1p(susceptible * Math.expm1(-((age / characteristicLife) ** shape)))
  }
  return -Math.expm1(-hazard)
}
