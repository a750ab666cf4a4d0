import { failureMode, type Mode } from '../numerics/lives/competing-risks.ts'
import { hazardOfShare } from '../numerics/lives/model-average.ts'
import { fromTwoPoints, lifeFromB10, lifeFromMean, lifeFromPoint } from '../numerics/lives/weibull.ts'
import { power } from '../numerics/power.ts'
import { normalCdf } from '../numerics/special.ts'
import type { EvidenceFailure, Failure, FittedFailure, LifeForm, StatedMode } from './model/failure.ts'
import type { Scenario } from './model.ts'
import { type Quantity, type Scores, valueAt } from './quantity.ts'

/** Shapes a scenario may state; the far tails of a range stop there too. */
const LEAST_SHAPE = 0.05
const MOST_SHAPE = 10_000

/**
 * The failure modes of a population in one parameter set, for a model with multiplier 1 (M1, M4, U1b, U1c).
 *
 * @param failure - the stated, fitted or evidence model
 * @param scores - scores of the unknowns
 * @param tierEffect - e of U1c, >= 0; 1 takes the tiers as they are
 * @returns at least one mode; numbers only
 */
export function modesAt(failure: Failure, scores: Scores, tierEffect: number): Mode[] {
  const modes = unscaledModes(failure, scores, tierEffect)
  const factor = failure.lifeFactor
  if (factor === undefined) return modes
  const wearOut = failure.source.form === 'evidence' && modes.some(mode => mode.cause === 'wear-out')
  return modes.map(mode =>
    wearOut && mode.cause !== 'wear-out'
      ? mode
      : failureMode(mode.cause, mode.susceptible, mode.shape, mode.lifeYears * factor),
  )
}

function unscaledModes(failure: Failure, scores: Scores, tierEffect: number): Mode[] {
  const source = failure.source
  switch (source.form) {
    case 'evidence':
      return evidenceModes(source, failure.modelSpread, scores, tierEffect)
    case 'stated':
      return source.modes.map(mode => statedMode(mode, failure.modelSpread, scores))
    case 'fitted':
      return fittedModes(source, scores)
    default:
      return source satisfies never
  }
}

/**
 * The tier effect in one parameter set (U1c).
 *
 * @param tierEffect - of the scenario
 * @param uniform - uniform position of its unknown, (0, 1); 0.5 is the middle
 * @returns e, [0, 2], or the number the scenario fixes; 1 where nothing takes it
 */
export function tierEffectAt(tierEffect: Scenario['tierEffect'], uniform: (unknown: number) => number): number {
  if (tierEffect === null) return 1
  return 'fixed' in tierEffect ? tierEffect.fixed : 2 * uniform(tierEffect.unknown)
}

/** Early, chance and wear-out mode; the wear-out life keeps the share failed at the anchor age. */
function evidenceModes(source: EvidenceFailure, spread: number, scores: Scores, tierEffect: number): Mode[] {
  const plain = source.plainRow
  const drawn = (own: Quantity, ofPlain: Quantity | null | undefined): number => {
    const value = valueAt(own, scores)
    return ofPlain === null || ofPlain === undefined
      ? value
      : withTierEffect(value, valueAt(ofPlain, scores), tierEffect)
  }
  const earlyShare = Math.min(drawn(source.earlyShare, plain?.earlyShare), 0.999)
  const stated = drawn(source.chanceRatePerYear, plain?.chanceRatePerYear)
  const early: Mode = failureMode('early', earlyShare, source.earlyShape, source.earlyLifeYears)
  const { anchorAgeYears: age } = source
  const { anchorShare } = source.row
  // a part that does not wear out
  if (source.wearShape === null || age === null || anchorShare === null)
    return [early, failureMode('chance', 1, 1, 1 / stated)]
  const shape = valueAt(source.wearShape, scores)
  if (source.wearLifeYears !== null) {
    const lifeYears = drawn(source.wearLifeYears, plain?.wearLifeYears)
    return [early, failureMode('chance', 1, 1, 1 / stated), failureMode('wear-out', 1, shape, lifeYears)]
  }
  const ownHazard = -Math.log1p(-anchorShare)
  const anchorHazard =
    plain === null ? ownHazard : withTierEffect(ownHazard, -Math.log1p(-plain.anchorShare), tierEffect)
  const target = hazardOfShare(-Math.expm1(-anchorHazard), spread)
  const earlyHazard = -Math.log1p(earlyShare * Math.expm1(-power(age / early.lifeYears, early.shape)))
  const left = target - earlyHazard - stated * age
  if (left > 0) {
    const lifeYears = age / power(left, 1 / shape)
    return [early, failureMode('chance', 1, 1, 1 / stated), failureMode('wear-out', 1, shape, lifeYears)]
  }
  // early and chance alone reach the anchor: no wear-out, chance lowered to meet it
  const rate = (target - earlyHazard) / age
  return rate > 0 ? [early, failureMode('chance', 1, 1, 1 / rate)] : [early]
}

/** U1c: plain · (tier/plain)^e, written so that effect 1 leaves the tier's own figure to the last bit. */
function withTierEffect(own: number, plain: number, tierEffect: number): number {
  return own * power(own / plain, tierEffect - 1)
}

function statedMode(mode: StatedMode, spread: number, scores: Scores): Mode {
  const susceptible = valueAt(mode.susceptible, scores)
  const { shape, lifeYears } = shapeAndLife(mode.life, susceptible, spread, scores)
  return failureMode(mode.cause, susceptible, shape, lifeYears)
}

function shapeAndLife(
  life: LifeForm,
  susceptible: number,
  spread: number,
  scores: Scores,
): { shape: number; lifeYears: number } {
  switch (life.form) {
    case 'life':
      return { shape: shapeAt(life.shape, scores), lifeYears: valueAt(life.lifeYears, scores) }
    case 'b10': {
      const shape = shapeAt(life.shape, scores)
      return { shape, lifeYears: lifeFromB10(valueAt(life.b10Years, scores), shape) }
    }
    case 'mean': {
      const shape = shapeAt(life.shape, scores)
      return { shape, lifeYears: lifeFromMean(valueAt(life.meanYears, scores), shape) }
    }
    case 'failed-by':
      return fromShares(life.points, life.shape, susceptible, spread, scores)
    default:
      return life satisfies never
  }
}

function shapeAt(shape: Quantity, scores: Scores): number {
  return Math.min(Math.max(valueAt(shape, scores), LEAST_SHAPE), MOST_SHAPE)
}

/** M4: the shares are averages over models, so the life is solved with the spread on. */
function fromShares(
  points: readonly { readonly ageYears: number; readonly share: Quantity }[],
  shape: Quantity | null,
  susceptible: number,
  spread: number,
  scores: Scores,
): { shape: number; lifeYears: number } {
  const hazardOf = (point: { readonly share: Quantity } | undefined): number => {
    const hazard = hazardOfShare(point === undefined ? 0.5 : valueAt(point.share, scores), spread)
    // (a/η)^β of the susceptible units; the far tails of two ranges may pass the susceptible share
    return susceptible === 1 ? hazard : -Math.log1p(Math.max(Math.expm1(-hazard) / susceptible, -1 + 1e-12))
  }
  const [first, second] = points
  const ageYears = first?.ageYears ?? 1
  const hazard = hazardOf(first)
  if (shape !== null || second === undefined) {
    const given = shape === null ? 1 : shapeAt(shape, scores)
    return { shape: given, lifeYears: lifeFromPoint(ageYears, hazard, given) }
  }
  // in the far tails the two shares may meet; the shape then stays at its least allowed value
  const later = hazardOf(second)
  if (Math.log(later / hazard) / Math.log(second.ageYears / ageYears) <= LEAST_SHAPE) {
    return { shape: LEAST_SHAPE, lifeYears: lifeFromPoint(ageYears, hazard, LEAST_SHAPE) }
  }
  return fromTwoPoints({ ageYears, cumulativeHazard: hazard }, { ageYears: second.ageYears, cumulativeHazard: later })
}

function fittedModes(source: FittedFailure, scores: Scores): Mode[] {
  const { draws, unknown } = source
  const score = unknown === null ? 0 : (scores[unknown] ?? 0)
  const spots = draws.length - 1
  const spot = score === 0 || spots < 1 ? 0 : 1 + Math.min(spots - 1, Math.floor(normalCdf(score) * spots))
  return (draws[spot] ?? []).map(mode => failureMode(mode.cause, mode.susceptible, mode.shape, mode.lifeYears))
}
