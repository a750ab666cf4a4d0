import type { Mode } from '../numerics/lifetime.ts'
import { hazardOfShare } from '../numerics/model-average.ts'
import { gammaFunction, normalCdf } from '../numerics/special.ts'
import type { EvidenceFailure, EvidenceRow, Failure, LifeForm, Scenario, StatedMode } from './model.ts'
import { type Quantity, type Scores, valueAt } from './quantity.ts'

/**
 * The failure modes of a population in one parameter set, for a model with multiplier 1 (M1, M4, U1b, U1c).
 *
 * @param failure - the stated, fitted or evidence model
 * @param scores - scores of the unknowns
 * @param tierEffect - e of U1c, >= 0; 1 takes the tiers as they stand
 * @returns at least one mode; numbers only
 */
export function modesAt(failure: Failure, scores: Scores, tierEffect: number): Mode[] {
  const source = failure.source
  switch (source.form) {
    case 'evidence':
      return evidenceModes(source, failure.modelSpread, scores, tierEffect)
    case 'stated':
      return source.modes.map(mode => statedMode(mode, failure.modelSpread, scores))
    case 'fitted':
      return [...fittedModes(source.draws, source.unknown, scores)]
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

/** Early, chance and wear-out mode; the wear-out life keeps the share failed at the anchor age (section 12). */
function evidenceModes(source: EvidenceFailure, spread: number, scores: Scores, tierEffect: number): Mode[] {
  const tier = (of: (row: EvidenceRow) => number): number => {
    if (source.plainRow === null) return 1
    const plain = of(source.plainRow)
    // U1c: plain · (tier/plain)^e, as a factor on the tier's own figure
    return (of(source.row) / plain) ** (tierEffect - 1)
  }
  const earlyShare = Math.min(valueAt(source.earlyShare, scores) * tier(row => row.earlyShare), 0.999)
  const stated = valueAt(source.chanceRatePerYear, scores) * tier(row => row.chanceRatePerYear)
  const early: Mode = {
    cause: 'early',
    susceptible: earlyShare,
    shape: source.earlyShape,
    lifeYears: source.earlyLifeYears,
  }
  const shape = valueAt(source.wearShape, scores)
  if (source.wearLifeYears !== null) {
    const lifeYears = valueAt(source.wearLifeYears, scores)
    return [
      early,
      { cause: 'chance', susceptible: 1, shape: 1, lifeYears: 1 / stated },
      { cause: 'wear-out', susceptible: 1, shape, lifeYears },
    ]
  }
  const anchorHazard = -Math.log1p(-source.row.anchorShare) * tier(row => -Math.log1p(-row.anchorShare))
  const target = hazardOfShare(-Math.expm1(-anchorHazard), spread)
  const age = source.anchorAgeYears
  const earlyHazard = -Math.log1p(earlyShare * Math.expm1(-((age / early.lifeYears) ** early.shape)))
  const left = target - earlyHazard - stated * age
  if (left > 0) {
    const lifeYears = age / left ** (1 / shape)
    return [
      early,
      { cause: 'chance', susceptible: 1, shape: 1, lifeYears: 1 / stated },
      { cause: 'wear-out', susceptible: 1, shape, lifeYears },
    ]
  }
  // early and chance alone reach the anchor: no wear-out, chance lowered to meet it
  const rate = (target - earlyHazard) / age
  return rate > 0 ? [early, { cause: 'chance', susceptible: 1, shape: 1, lifeYears: 1 / rate }] : [early]
}

function statedMode(mode: StatedMode, spread: number, scores: Scores): Mode {
  const susceptible = valueAt(mode.susceptible, scores)
  return { cause: mode.cause, susceptible, ...shapeAndLife(mode.life, susceptible, spread, scores) }
}

function shapeAndLife(
  life: LifeForm,
  susceptible: number,
  spread: number,
  scores: Scores,
): { shape: number; lifeYears: number } {
  switch (life.form) {
    case 'life':
      return { shape: valueAt(life.shape, scores), lifeYears: valueAt(life.lifeYears, scores) }
    case 'b10': {
      const shape = valueAt(life.shape, scores)
      return { shape, lifeYears: valueAt(life.b10Years, scores) / (-Math.log1p(-0.1)) ** (1 / shape) }
    }
    case 'mean': {
      const shape = valueAt(life.shape, scores)
      return { shape, lifeYears: valueAt(life.meanYears, scores) / gammaFunction(1 + 1 / shape) }
    }
    case 'failed-by':
      return fromShares(life.points, life.shape, susceptible, spread, scores)
    default:
      return life satisfies never
  }
}

/** M4: the shares are averages over models, so the life is solved with the spread on. */
function fromShares(
  points: readonly { readonly ageYears: number; readonly share: Quantity }[],
  shape: Quantity | null,
  susceptible: number,
  spread: number,
  scores: Scores,
): { shape: number; lifeYears: number } {
  const relative = (point: { readonly share: Quantity } | undefined): number => {
    const hazard = hazardOfShare(point === undefined ? 0.5 : valueAt(point.share, scores), spread)
    // x = (a/η)^β of the susceptible units
    return susceptible === 1 ? hazard : -Math.log1p(Math.expm1(-hazard) / susceptible)
  }
  const [first, second] = points
  const ageYears = first?.ageYears ?? 1
  const x = relative(first)
  if (shape !== null || second === undefined) {
    const given = shape === null ? 1 : valueAt(shape, scores)
    return { shape: given, lifeYears: ageYears / x ** (1 / given) }
  }
  const solved = Math.log(relative(second) / x) / Math.log(second.ageYears / ageYears)
  return { shape: solved, lifeYears: ageYears / x ** (1 / solved) }
}

function fittedModes(draws: readonly (readonly Mode[])[], unknown: number | null, scores: Scores): readonly Mode[] {
  const estimate = draws[0] ?? []
  const score = unknown === null ? 0 : (scores[unknown] ?? 0)
  if (score === 0 || draws.length < 2) return estimate
  const spots = draws.length - 1
  const spot = Math.min(spots - 1, Math.floor(normalCdf(score) * spots))
  return draws[1 + spot] ?? estimate
}
