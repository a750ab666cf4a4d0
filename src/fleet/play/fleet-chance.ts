import { batchStruck, drawExits, endOfProduction } from '../../history/chance.ts'
import { ProviderExits } from '../../history/provider-exits.ts'
import { streamKey } from '../../numerics/random/streams.ts'
import type { Population } from '../../scenario/model/population.ts'
import type { Scenario } from '../../scenario/model.ts'
import { modelParameters } from '../../simulation/model-parameters.ts'
import type { FleetSets } from './fleet-sets.ts'

/** A product model of the whole fleet; plain data for workers. */
export interface FleetModel {
  readonly name: string
  /** A scenario that holds this model alone: its first option lists the survivors that count as evidence (M2). */
  readonly scenario: Scenario
  /** Age of its oldest unit in the fleet at the start, years (M8). */
  readonly oldestAgeYears: number
}

/** Multiplier, bad batch and end of production of a model in every draw. */
export interface ModelDraws {
  /** m of M4 by draw. */
  readonly multipliers: Float64Array
  /** Whether a bad batch struck it, by draw; 0 or 1. */
  readonly struck: Uint8Array
  /** End of production by draw, years; Infinity never (M8). */
  readonly endOfProduction: Float64Array
}

/** Common cause of a fleet: what strikes every site of a model or a provider at once (F3), keyed by name and draw. */
export class FleetChance {
  readonly #seed: number
  readonly #sets: FleetSets
  readonly #models: ReadonlyMap<string, FleetModel>
  readonly #drawn = new Map<string, ModelDraws>()
  readonly #exits = new Map<string, ProviderExits>()

  /**
   * @param seed - of the run
   * @param sets - parameter sets
   * @param models - those that several sites may share
   */
  constructor(seed: number, sets: FleetSets, models: readonly FleetModel[]) {
    this.#seed = seed
    this.#sets = sets
    this.#models = new Map(models.map(model => [model.name, model]))
  }

  /**
   * What is drawn of a model: its multiplier, bad batch and end of production in every draw.
   *
   * @param scenario - of a site that holds it
   * @param model - its place among the models of that scenario
   */
  drawsOf(scenario: Scenario, model: number): ModelDraws {
    const name = scenario.models[model]?.name ?? ''
    const known = this.#drawn.get(name)
    if (known !== undefined) return known
    const shared = this.#models.get(name) ?? modelAlone(scenario, model, [])
    const drawn = this.#drawModel(shared)
    // a model that only one site has is not needed again
    if (this.#models.has(name)) this.#drawn.set(name, drawn)
    return drawn
  }

  /**
   * Exits of a provider in every draw (W5).
   *
   * @param name - of the provider
   * @param rates - by draw, per year
   * @param horizonYears - years
   */
  exitsOf(name: string, rates: readonly number[], horizonYears: number): ProviderExits {
    const known = this.#exits.get(name)
    if (known !== undefined) return known
    if (this.#exits.size >= MOST_PROVIDERS) this.#exits.clear()
    const key = streamKey(this.#seed, JSON.stringify(['provider', name]))
    const exits = new ProviderExits()
    exits.begin(this.#sets.draws)
    for (let draw = 0; draw < this.#sets.draws; draw++) {
      drawExits(key, draw, rates[draw] ?? 0, horizonYears, exits, draw)
    }
    this.#exits.set(name, exits)
    return exits
  }

  #drawModel({ name, scenario, oldestAgeYears }: FleetModel): ModelDraws {
    const { draws } = this.#sets
    const batchKey = streamKey(this.#seed, JSON.stringify(['batch', name]))
    const productionKey = streamKey(this.#seed, JSON.stringify(['production', name]))
    const points = scenario.options[0]?.populations.find(one => one.successor !== null)?.successor?.chance ?? []
    const drawn = {
      multipliers: new Float64Array(draws).fill(1),
      struck: new Uint8Array(draws),
      endOfProduction: new Float64Array(draws).fill(Infinity),
    }
    this.#sets.of(scenario).forEach((set, draw) => {
      const parameters = modelParameters(scenario, set, [0])[0]
      drawn.multipliers[draw] = parameters?.multiplier ?? 1
      drawn.struck[draw] = batchStruck(batchKey, draw, parameters?.batchChance ?? 0) ? 1 : 0
      if (points.length > 0) drawn.endOfProduction[draw] = endOfProduction(productionKey, draw, points, oldestAgeYears)
    })
    return drawn
  }
}

/** Providers whose exits are kept. Ours. */
const MOST_PROVIDERS = 500

/** Survivors of one age that count as evidence (M2). */
export interface Survivors {
  readonly ageYears: number
  readonly count: number
}

/**
 * One model by itself, in the form that rule M2 reads: the populations of its first option are the survivors.
 *
 * @param scenario - of any site that holds it
 * @param model - its place among the models of that scenario
 * @param survivors - flagged units of the whole fleet; empty: none beyond those of the scenario
 */
export function modelAlone(scenario: Scenario, model: number, survivors: readonly Survivors[]): FleetModel {
  const option = scenario.options[0]
  const own = option?.populations.filter(population => population.model === model) ?? []
  const [first] = own
  if (option === undefined || first === undefined) throw new RangeError('a model needs a population')
  const withAge = ({ ageYears, count }: Survivors): Population => ({ ...first, model: 0, ageYears, count })
  const populations =
    survivors.length > 0 ? survivors.map(withAge) : own.map(population => ({ ...population, model: 0 }))
  const product = scenario.models[model]
  if (product === undefined) throw new RangeError('no such model')
  return {
    name: product.name,
    scenario: { ...scenario, options: [{ ...option, populations }], models: [product], assumptions: [], notes: [] },
    oldestAgeYears: product.oldestAgeYears,
  }
}
