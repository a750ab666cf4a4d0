import { sumOf } from '../numerics/sum.ts'
import type { AgeUnit } from './age-unit.ts'
import { unitsPerYear } from './age-unit.ts'
import { findClusters } from './checks/clusters.ts'
import { dependsOnLast } from './checks/depends-on-last.ts'
import { goodnessOf } from './checks/goodness.ts'
import { aiccOf, chooseModel, ratioTest } from './choose-model.ts'
import { kaplanMeier, type SurvivalStep, survivalLimits } from './curves/kaplan-meier.ts'
import { meanCumulative } from './curves/mean-cumulative.ts'
import { plotPoints, thin } from './curves/probability-plot.ts'
import { turnbull } from './curves/turnbull.ts'
import type { ClusterResult, FigureResult, GroupResult, LifeBound, ModelResult, ParameterResult } from './fit-result.ts'
import { type Addition, type Fit, type FitData, fitDataOf, fitModel } from './likelihood/fit-model.ts'
import { coordinatesOf, type FittedMode } from './likelihood/form.ts'
import { type JointDraws, jointDraws } from './likelihood/joint-draws.ts'
import { LIFE, SHAPE } from './likelihood/mode-terms.ts'
import { estimateOf, profiledEstimate } from './likelihood/profile.ts'
import { ageFailed, type FitQuantity, meanLifeQuantity, ownFigure, shareFailedBy } from './likelihood/quantity.ts'
import { lifeBound } from './models/fixed-shape.ts'
import { fixedShapeModel } from './models/fixed-shape-model.ts'
import { FAILURE_MODELS } from './models/index.ts'
import { monthText } from './records/dates.ts'
import type { RecordGroup } from './records/read-records.ts'
import type { LifeRows } from './rows.ts'

/** How a group is fitted. */
export interface GroupSettings {
  readonly ageUnit: AgeUnit
  readonly seed: number
  /** Shape held at this figure; null: estimated. */
  readonly shape: number | null
  /** Logarithm of a prior of the first mode; undefined: none. */
  readonly prior: Addition | undefined
  /** Names of the batches, by index. */
  readonly batches: readonly string[]
}

/** Results of a group. */
export interface FittedGroup {
  readonly result: GroupResult
  /** Null where no model could be fitted. */
  readonly fit: Fit | null
  readonly data: FitData
}

/** Years by which the share failed is given. */
export const FAILED_BY_YEARS = [5, 10, 15, 25] as const

/** Confidence of the bound for few or no failures. */
export const BOUND_CONFIDENCE = 0.9

/** Shapes for which a bound is given where none was: steady, rising and steeply rising risk. */
const BOUND_SHAPES = [1, 2, 3] as const

/** From this many failures on, their number is not the reason for a missing curve. Ours. */
const FEW_FAILURES = 10

/** Points kept of a curve in fit.json. */
const MOST_POINTS = 500

/**
 * All results from the records of one group.
 *
 * @param group - the records
 * @param settings - see `GroupSettings`
 * @returns the group's part of fit.json, the fit in use and the records it rests on
 */
export function fitGroup(group: RecordGroup, settings: GroupSettings): FittedGroup {
  const data = fitDataOf(group.rows)
  const { nUnits, nFailed, oldestAge, intervals } = data.exact
  const fits = nFailed > 0 || settings.prior !== undefined ? fitAll(data, settings) : []
  const chosen = chooseDrawn(fits, group.name, settings)
  const fit = chosen?.fit ?? null
  const ageAt = (years: number): number => years * unitsPerYear(settings.ageUnit)
  const figure = (quantity: FitQuantity): FigureResult | null => (fit === null ? null : estimateOf(fit, quantity))
  const failedBy =
    fit === null
      ? []
      : FAILED_BY_YEARS.map(years => ({
          age: ageAt(years),
          years,
          ...estimateOf(fit, shareFailedBy(fit.form, ageAt(years))),
        }))
  const tenYears90 = failedBy.find(({ years }) => years === 10)?.profile90 ?? [null, null]
  const result: GroupResult = {
    name: group.name,
    units: nUnits,
    failed: nFailed,
    failedBetween: sumOf(intervals.counts),
    oldestAge,
    best: fit?.model.name ?? null,
    choice: chosen?.choice ?? whyNone(data, fits.length),
    models: chosen === null ? [] : fits.map((one, at) => modelResult(one, fits, one === fit || at === 0)),
    b10: fit === null ? null : figure(ageFailed(fit.form, 0.1)),
    meanLife: fit === null ? null : figure(meanLifeQuantity(fit.form)),
    failedBy,
    ...survivalOf(data.coarse, intervals.counts.length > 0),
    goodness: fit === null ? null : goodnessOf(fit),
    meanCumulative: repeatedOf(group),
    dependsOnLast: fit === null ? null : dependsOnLast(fit, data, tenYears90, settings),
    lifeBounds: boundsOf(data, settings.shape),
    clusters: fit === null ? [] : clustersOf(group, fit, settings.batches),
    draws:
      chosen === null
        ? null
        : {
            method:
              'importance sampling of likelihood (times prior, if given), flat in ln shape and ln life for one curve; equally likely sets in rising order of mean life',
            effectiveDraws: chosen.drawn.effectiveDraws,
            columns: ['shape', 'characteristicLife', 'susceptible'],
            causes: chosen.fit.modes.map(mode => mode.cause),
            values: chosen.drawn.draws.map(modes => modes.map(mode => [mode.shape, mode.life, mode.share] as const)),
          },
  }
  return { result, fit, data }
}

function fitAll(data: FitData, settings: GroupSettings): Fit[] {
  const { shape, ageUnit, prior } = settings
  if (shape !== null) {
    const fit = fitModel(data, fixedShapeModel(shape), ageUnit, prior)
    return fit === null ? [] : [fit]
  }
  const fits: Fit[] = []
  for (const model of FAILURE_MODELS) {
    // A prior is that of one curve and does not cover further causes.
    const tried = prior === undefined ? data.exact.nFailed >= model.fewestFailures : model.extends === null
    if (!tried) continue
    const fit = fitModel(data, model, ageUnit, prior)
    if (fit !== null) fits.push(fit)
  }
  return fits
}

interface Chosen {
  readonly fit: Fit
  readonly choice: string
  readonly drawn: JointDraws
}

/** The model in use; one that fits only with curves that no real unit has is skipped. */
function chooseDrawn(fits: readonly Fit[], name: string, settings: GroupSettings): Chosen | null {
  const [first, ...more] = fits
  if (first === undefined) return null
  const { best, choice } = chooseModel([first, ...more])
  const drawn = jointDraws(best, name, settings.seed, settings.prior)
  if (drawn !== null) return { fit: best, choice, drawn }
  return chooseDrawn(
    fits.filter(fit => fit !== best),
    name,
    settings,
  )
}

function whyNone({ exact }: FitData, nFits: number): string {
  const { nFailed, failures, oldestAge } = exact
  if (nFailed === 0)
    return 'No unit has failed, so no curve can be estimated; the bound on the life is all the records give.'
  const ages = failures.ages.length
  if (ages === 1 && nFailed > 1) {
    return 'All failures came at one age, so no curve can be estimated; check whether ages were rounded or copied.'
  }
  if (nFailed === 1 && failures.ages[0] === oldestAge) {
    return 'The only failure is that of the oldest unit, so the shape cannot be estimated; give a shape with --shape.'
  }
  if (nFits > 0 || nFailed >= FEW_FAILURES)
    return 'The records fit only curves that no real unit has; check whether all ages are in one unit.'
  return `${nFailed} ${nFailed === 1 ? 'failure is' : 'failures are'} too few for a curve here; give a shape with --shape, or wait for more.`
}

function modelResult(fit: Fit, fits: readonly Fit[], bounded: boolean): ModelResult {
  const plainer = fits.find(other => other.model.name === fit.model.extends)
  const numbered = fit.form.modes.filter(mode => mode.shape === null).length > 1
  const parameters: Record<string, ParameterResult> = {}
  coordinatesOf(fit.form).forEach(({ mode, place }, index) => {
    const word = place === SHAPE ? 'shape' : place === LIFE ? 'characteristicLife' : 'susceptible'
    const quantity = ownFigure(fit.form, index)
    parameters[numbered ? `${word}${mode + 1}` : word] = bounded
      ? estimateOf(fit, quantity)
      : profiledEstimate(fit, quantity)
  })
  return {
    name: fit.model.name,
    label: fit.model.label,
    parameters,
    modes: fit.modes.map(modeResult),
    logLikelihood: fit.logLikelihood,
    aicc: aiccOf(fit),
    against: plainer === undefined ? null : { name: plainer.model.name, ...ratioTest(fit, plainer) },
  }
}

function modeResult(mode: FittedMode) {
  return { cause: mode.cause, shape: mode.shape, characteristicLife: mode.life, susceptible: mode.share }
}

function survivalOf(
  rows: LifeRows,
  between: boolean,
): Pick<GroupResult, 'survivalMethod' | 'survival' | 'cumulativeHazard' | 'probabilityPlot'> {
  if (between) {
    const steps = turnbull(rows)
    return {
      survivalMethod: 'turnbull',
      survival: thin(steps, MOST_POINTS).map(step => ({
        age: step.age,
        estimate: step.survival,
        low95: null,
        high95: null,
        low90: null,
        high90: null,
      })),
      cumulativeHazard: [],
      probabilityPlot: thin(
        steps.filter(step => step.survival > 0).map(step => ({ age: step.age, shareFailed: 1 - step.survival })),
        MOST_POINTS,
      ),
    }
  }
  const steps: readonly SurvivalStep[] = kaplanMeier(rows)
  return {
    survivalMethod: 'kaplan-meier',
    survival: thin(steps, MOST_POINTS).map(step => {
      const [low95, high95] = survivalLimits(step.survival, step.standardError, 0.95)
      const [low90, high90] = survivalLimits(step.survival, step.standardError, 0.9)
      return { age: step.age, estimate: step.survival, low95, high95, low90, high90 }
    }),
    cumulativeHazard: thin(steps, MOST_POINTS).map(step => ({
      age: step.age,
      estimate: step.cumulativeHazard,
      standardError: step.cumulativeHazardError,
    })),
    probabilityPlot: plotPoints(steps, MOST_POINTS),
  }
}

function repeatedOf(group: RecordGroup): GroupResult['meanCumulative'] {
  if (group.slots === null) return null
  return thin(meanCumulative(group.slots), MOST_POINTS).map(step => {
    // Limits on the logarithm stay above 0.
    const spread = Math.exp((1.959963984540054 * step.standardError) / step.mean)
    return {
      age: step.age,
      estimate: step.mean,
      low95: step.mean / spread,
      high95: step.mean * spread,
      slotsWatched: step.slotsWatched,
    }
  })
}

function boundsOf({ exact }: FitData, shape: number | null): LifeBound[] {
  const shapes: readonly number[] = shape === null ? BOUND_SHAPES : [shape]
  return shapes.map(one => ({
    shape: one,
    confidence: BOUND_CONFIDENCE,
    characteristicLife: lifeBound(exact, one, BOUND_CONFIDENCE),
  }))
}

function clustersOf(group: RecordGroup, fit: Fit, batches: readonly string[]): ClusterResult[] {
  const of = (by: 'batches' | 'months', kind: 'batch' | 'month', name: (index: number) => string): ClusterResult[] =>
    findClusters(group.rows, fit, by).map(({ index, seen, expected, pValue }) => ({
      kind,
      name: name(index),
      seen,
      expected,
      pValue,
    }))
  return [...of('batches', 'batch', index => batches[index] ?? ''), ...of('months', 'month', monthText)]
}
