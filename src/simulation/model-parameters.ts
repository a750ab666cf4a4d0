import { GammaMultipliers } from '../numerics/distributions/gamma-multipliers.ts'
import { cumulativeHazard } from '../numerics/lives/competing-risks.ts'
import { gammaQuantile } from '../numerics/special.ts'
import { modesAt, tierEffectAt } from '../scenario/failure-at.ts'
import type { Population } from '../scenario/model/population.ts'
import type { Scenario } from '../scenario/model.ts'
import { valueAt } from '../scenario/quantity.ts'
import type { ParameterSet } from './parameter-sets.ts'

/** Tables by shape; a scenario has one or two. */
const tables = new Map<number, GammaMultipliers>()

/** A product model in one parameter set (M4). */
export interface ModelParameters {
  /** m, > 0. */
  readonly multiplier: number
  /** Chance that a bad batch struck the model, [0, 1]. */
  readonly batchChance: number
}

/**
 * The multiplier and the chance of a bad batch of every model (M2, M4). Units that have survived so far change both
 * only where the scenario gives `none_failed_so_far`.
 *
 * @param scenario - the scenario
 * @param set - the parameter set
 * @param wanted - models to compute; the others are never struck and have multiplier 1
 * @returns one parameters a model, in the order of `scenario.models`
 */
export function modelParameters(scenario: Scenario, set: ParameterSet, wanted: readonly number[]): ModelParameters[] {
  return scenario.models.map((model, index) => {
    const populations = wanted.includes(index) ? populationsOf(scenario, index) : []
    const first = populations[0]?.[0]
    if (first === undefined) return { multiplier: 1, batchChance: 0 }
    const batch = first.failure.badBatch
    const chance = batch === null ? 0 : valueAt(batch.chance, set.scores)
    const survivors = mostSurvivors(populations, scenario, set)
    const spread = first.failure.modelSpread
    let multiplier = 1
    if (spread > 0 && model.multiplier !== null && isFree(set, model.multiplier)) {
      const shape = 1 / (spread * spread)
      const rate = shape + sumOver(survivors, scenario, set, (hazard, count) => count * hazard)
      const uniform = set.uniforms[model.multiplier] ?? 0.5
      multiplier = rate === shape ? multipliersOf(shape).at(uniform) : gammaQuantile(uniform, shape, 1 / rate)
    }
    if (batch === null || survivors.length === 0) return { multiplier, batchChance: chance }
    const affects = valueAt(batch.affects, set.scores)
    const logOdds = sumOver(survivors, scenario, set, (hazard, count, hitHazard) => {
      const ratio = Math.exp(-multiplier * (hitHazard(batch.lifeTimes) - hazard))
      return count * Math.log1p(affects * (ratio - 1))
    })
    const odds = (chance / (1 - chance)) * Math.exp(logOdds)
    return { multiplier, batchChance: chance >= 1 ? 1 : odds / (1 + odds) }
  })
}

/** Whether a multiplier is drawn in a set, and not 1. */
function isFree(set: ParameterSet, multiplier: number): boolean {
  return !set.multipliersAtOne || set.freeMultiplier === multiplier
}

/** Populations by model and option, found once for all sets of a scenario. */
const populationsByModel = new WeakMap<Scenario, Population[][][]>()

function populationsOf(scenario: Scenario, model: number): Population[][] {
  let byModel = populationsByModel.get(scenario)
  if (byModel === undefined) {
    byModel = scenario.models.map((_, each) =>
      scenario.options
        .map(option => option.populations.filter(population => population.model === each))
        .filter(populations => populations.length > 0),
    )
    populationsByModel.set(scenario, byModel)
  }
  return byModel[model] ?? []
}

/** The flagged populations in the option where the sum of hazards survived is largest (M2). */
function mostSurvivors(populations: Population[][], scenario: Scenario, set: ParameterSet): Population[] {
  let most: Population[] = []
  let mostHazard = 0
  for (const ofOption of populations) {
    const flagged = ofOption.filter(population => population.failure.noneFailedSoFar && population.ageYears > 0)
    const hazard = sumOver(flagged, scenario, set, (each, count) => count * each)
    if (hazard > mostHazard) {
      most = flagged
      mostHazard = hazard
    }
  }
  return most
}

function sumOver(
  populations: readonly Population[],
  scenario: Scenario,
  set: ParameterSet,
  term: (hazard: number, count: number, hitHazard: (lifeTimes: number) => number) => number,
): number {
  const effect = tierEffectAt(scenario.tierEffect, unknown => set.uniforms[unknown] ?? 0.5)
  let sum = 0
  for (const { failure, ageYears, count } of populations) {
    const modes = modesAt(failure, set.scores, effect)
    sum += term(cumulativeHazard(modes, ageYears), count, lifeTimes => cumulativeHazard(modes, ageYears / lifeTimes))
  }
  return sum
}

function multipliersOf(shape: number): GammaMultipliers {
  let table = tables.get(shape)
  if (table === undefined) {
    table = new GammaMultipliers(shape)
    tables.set(shape, table)
  }
  return table
}
