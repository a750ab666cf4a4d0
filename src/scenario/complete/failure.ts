import { figureOf, findFigure } from '../../evidence/index.ts'
import { failureMode } from '../../numerics/lives/competing-risks.ts'
import { ResidualLives } from '../../numerics/lives/mean-residual-life.ts'
import { evidenceRow, hasTiers } from '../../topologies/kinds.ts'
import type { FittedFiles } from '../files/fitted-files.ts'
import type { FittedRecords } from '../files/fitted-records.ts'
import type {
  EvidenceFailure,
  EvidenceRow,
  Failure,
  FittedFailure,
  LifeForm,
  PlainRow,
  StatedMode,
} from '../model/failure.ts'
import type { Quantity } from '../quantity.ts'
import { failureForm, type GivenFailure, type GivenMode } from '../schema/failure.ts'
import type { Given } from '../schema/range.ts'
import type { ComponentPlace } from './component-place.ts'

/**
 * When the units of a component fail, complete (M1, M2, M4, U1b, U1c).
 *
 * @param at - the component
 * @param sharedBy - prefix of unknown names where several populations share one model; null: the component's own
 * @param fitted - fitted models by what `failure.records` names
 * @returns the failure model before a parameter set is chosen
 */
export function completeFailure(at: ComponentPlace, sharedBy: string | null, fitted: FittedFiles): Failure {
  const given = at.given.failure
  const spread = completeSpread(at, given)
  return {
    source: completeSource(at, given, spread, sharedBy, fitted),
    modelSpread: spread,
    badBatch: completeBatch(at, given, sharedBy),
    noneFailedSoFar: given?.none_failed_so_far ?? false,
  }
}

/**
 * Whether the survival of the units in service is counted as evidence on their model: by M2, or since it is in the
 * records that their failures come from.
 *
 * @param failure - of the units
 */
export function countsSurvivors({ noneFailedSoFar, source }: Failure): boolean {
  return noneFailedSoFar || source.form === 'fitted'
}

function completeSource(
  at: ComponentPlace,
  given: GivenFailure | undefined,
  spread: number,
  sharedBy: string | null,
  fitted: FittedFiles,
): Failure['source'] {
  if (given === undefined || failureForm(given) === null) return evidenceFailure(at, spread)
  if (given.records === undefined) return { form: 'stated', modes: statedModes(at, given, sharedBy) }
  const records = fitted.get(given.records)
  if (records === undefined) throw new RangeError(`records ${given.records} were not read`)
  return fittedFailure(at, given.records, records)
}

/** The fitted models are one unknown: its position picks one of them, in order of mean life (U1). */
function fittedFailure(at: ComponentPlace, written: string, { draws, said }: FittedRecords): FittedFailure {
  at.resolution.word(at.keyOf('failure.records'), `${written}: ${said}`, '')
  const meanLife = (position: number): number => {
    const spot = draws.length < 2 ? 0 : 1 + Math.min(draws.length - 2, Math.floor(position * (draws.length - 1)))
    const modes = (draws[spot] ?? []).map(mode => failureMode(mode.cause, mode.susceptible, mode.shape, mode.lifeYears))
    return new ResidualLives(modes).at(0)
  }
  const unknown =
    draws.length < 2
      ? null
      : at.resolution.unknown({
          name: `records ${written}`,
          label: `mean life of the units in ${written}`,
          unit: 'years',
          low: meanLife(0.1),
          middle: meanLife(0.5),
          high: meanLife(0.9),
          kind: 'normal',
          known: 'yours',
        })
  return { form: 'fitted', unknown, draws, said }
}

/** M4: 0.5 where failure is evidence or plain numbers, 0 where a range or records already include it. */
function completeSpread(at: ComponentPlace, given: GivenFailure | undefined): number {
  if (given !== undefined && given.model_spread === undefined && (given.records !== undefined || holdsRange(given)))
    return at.value('failure.model_spread', undefined, {
      choice: 0,
      remark: 'the range or records of the failure include it',
    })
  return at.value('failure.model_spread', given?.model_spread)
}

function holdsRange(given: GivenFailure): boolean {
  const lives = (mode: Omit<GivenMode, 'cause'>) => [
    mode.susceptible,
    mode.shape,
    mode.characteristic_life_years,
    mode.b10_years,
    mode.mean_life_years,
    ...Object.values(mode.failed_by ?? {}),
  ]
  return [given, ...(given.modes ?? [])].flatMap(lives).some(value => typeof value === 'object')
}

function completeBatch(
  at: ComponentPlace,
  given: GivenFailure | undefined,
  sharedBy: string | null,
): Failure['badBatch'] {
  const batch = given?.bad_batch
  const none = batch?.chance === 0 || batch?.affects === 0
  const share = (key: 'chance' | 'affects') =>
    at.quantity({
      key: `failure.bad_batch.${key}`,
      scale: 'logit',
      given: batch?.[key],
      read: !none,
      sharedBy,
    })
  const chance = share('chance')
  const affects = share('affects')
  const lifeTimes = at.value('failure.bad_batch.life_times', batch?.life_times)
  return none ? null : { chance, affects, lifeTimes }
}

function evidenceFailure(at: ComponentPlace, spread: number): EvidenceFailure {
  const { row } = at
  const reference = hasTiers(at.kind) ? evidenceRow(at.kind, 'plain') : null
  const plain = reference === row ? null : reference
  const figure = (key: string, scale: 'log' | 'logit', evidenceDrawn: boolean) =>
    at.quantity({ key: `failure.${key}`, scale, given: undefined, read: true, evidenceDrawn })
  const alone = spread === 0
  const earlyShare = figure('early.susceptible', 'logit', true)
  const earlyShape = at.value('failure.early.shape', undefined)
  const earlyLifeYears = at.value('failure.early.life_years', undefined)
  const chanceRatePerYear = figure('chance.rate_per_year', 'log', alone)
  const wearsOut = at.hasFigure('failure.wear_out.shape')
  const wearShape = wearsOut ? figure('wear_out.shape', 'log', true) : null
  const wearLifeYears = wearsOut && alone ? figure('wear_out.life_years', 'log', true) : null
  const anchorAgeYears = wearsOut ? at.value('failure.anchor.age_years', undefined) : null
  // Listed only: the wear-out life is solved to meet this share, and the row itself has the number.
  if (wearsOut && !alone) at.value('failure.anchor.share', undefined)
  return {
    form: 'evidence',
    row: rowOf(row),
    plainRow: plain === null ? null : plainRow(plain, { earlyShare, chanceRatePerYear, wearLifeYears }),
    earlyShare,
    earlyShape,
    earlyLifeYears,
    chanceRatePerYear,
    wearShape,
    wearLifeYears,
    anchorAgeYears,
  }
}

/** U1c: the plain figures at the same position of what is not known as those of the tier, so that effect 0 makes them equal in every set. */
function plainRow(
  row: NonNullable<ComponentPlace['row']>,
  own: Pick<EvidenceFailure, 'earlyShare' | 'chanceRatePerYear' | 'wearLifeYears'>,
): PlainRow {
  const like = (quantity: Quantity, key: string): Quantity => {
    const { value, low, high } = figureOf(row, key)
    return typeof quantity === 'number' || low === null || high === null
      ? value
      : { ...quantity, low, middle: value, high }
  }
  return {
    earlyShare: like(own.earlyShare, 'failure.early.susceptible'),
    chanceRatePerYear: like(own.chanceRatePerYear, 'failure.chance.rate_per_year'),
    wearLifeYears: own.wearLifeYears === null ? null : like(own.wearLifeYears, 'failure.wear_out.life_years'),
    anchorShare: figureOf(row, 'failure.anchor.share').value,
  }
}

function rowOf(row: NonNullable<ComponentPlace['row']>): EvidenceRow {
  return {
    earlyShare: figureOf(row, 'failure.early.susceptible').value,
    chanceRatePerYear: figureOf(row, 'failure.chance.rate_per_year').value,
    anchorShare: findFigure(row, 'failure.anchor.share')?.value ?? null,
  }
}

function statedModes(at: ComponentPlace, given: GivenFailure, sharedBy: string | null): StatedMode[] {
  if (given.modes === undefined)
    return [{ cause: 'all causes', susceptible: 1, life: lifeForm(at, given, 'failure', sharedBy) }]
  return given.modes.map((mode, index) => {
    const prefix = `failure.modes.${index}`
    at.resolution.word(at.keyOf(`${prefix}.cause`), mode.cause, '')
    return {
      cause: mode.cause,
      susceptible:
        mode.susceptible === undefined
          ? 1
          : at.quantity({
              key: `${prefix}.susceptible`,
              figureKey: 'failure.modes.susceptible',
              scale: 'logit',
              given: mode.susceptible,
              read: true,
              sharedBy,
            }),
      life: lifeForm(at, mode, prefix, sharedBy),
    }
  })
}

type GivenLife = Omit<GivenMode, 'cause' | 'susceptible'>

function lifeForm(at: ComponentPlace, given: GivenLife, prefix: string, sharedBy: string | null): LifeForm {
  const quantity = (key: string, value: Given): Quantity =>
    at.quantity({
      key: `${prefix}.${key}`,
      figureKey: `failure.${key}`,
      scale: 'log',
      given: value,
      read: true,
      sharedBy,
    })
  const shape = given.shape === undefined ? null : quantity('shape', given.shape)
  const years = (key: 'characteristic_life_years' | 'b10_years' | 'mean_life_years') => {
    const value = given[key]
    return value === undefined ? null : quantity(key, value)
  }
  const lifeYears = years('characteristic_life_years')
  const b10Years = years('b10_years')
  const meanYears = years('mean_life_years')
  if (shape !== null && lifeYears !== null) return { form: 'life', shape, lifeYears }
  if (shape !== null && b10Years !== null) return { form: 'b10', shape, b10Years }
  if (shape !== null && meanYears !== null) return { form: 'mean', shape, meanYears }
  return { form: 'failed-by', shape, points: failedByPoints(at, given, prefix, sharedBy) }
}

/** U1a: the ± shares of one `failed_by` share one unknown, so that they keep rising with age. */
function failedByPoints(at: ComponentPlace, given: GivenLife, prefix: string, sharedBy: string | null) {
  const shares = Object.values(given.failed_by ?? {})
  const named = shares
    .map(share => (typeof share === 'number' ? undefined : share.name))
    .find(name => name !== undefined)
  const name = named ?? `${sharedBy ?? `${at.option.name} / ${at.place}`} / ${prefix}.failed_by`
  return Object.entries(given.failed_by ?? {})
    .map(([age, share]) => ({ ageYears: Number(age), given: typeof share === 'number' ? share : { ...share, name } }))
    .sort((a, b) => a.ageYears - b.ageYears)
    .map(point => ({
      ageYears: point.ageYears,
      share: at.quantity({
        key: `${prefix}.failed_by.${point.ageYears}`,
        figureKey: 'failure.failed_by',
        scale: 'logit',
        given: point.given,
        read: true,
        sharedBy,
      }),
    }))
}
