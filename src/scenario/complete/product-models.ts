import { gammaQuantile } from '../../numerics/special.ts'
import type { UnknownInput } from '../model/unknown-input.ts'
import type { Option, ProductModel } from '../model.ts'
import type { GivenOption } from '../schema/option.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import { componentLabel } from './component-place.ts'

/** The product models of a scenario, each once (M4): those the user named, and one for each other component. */
export class ProductModels {
  readonly #names: string[] = []
  readonly #labels: string[] = []
  /** Whether the user gives `model_spread`. */
  readonly #stated: boolean[] = []

  constructor(given: GivenScenario) {
    for (const option of given.options)
      for (const [place] of option.components.entries()) {
        const name = modelName(option, place)
        const stated = option.components[place]?.failure?.model_spread !== undefined
        const known = this.#names.indexOf(name)
        if (known >= 0) {
          this.#stated[known] ||= stated
          continue
        }
        this.#names.push(name)
        this.#stated.push(stated)
        this.#labels.push(
          name === option.components[place]?.model
            ? `whether model ${name} is a good product or a bad one`
            : `whether the ${componentLabel(option, place)} of ${option.name} is a good product or a bad one`,
        )
      }
  }

  /** Index of the model of a component. */
  indexOf(option: GivenOption, place: number): number {
    return this.#names.indexOf(modelName(option, place))
  }

  /**
   * The models with their multipliers, once the options are complete.
   *
   * @param options - complete options
   * @param unknown - adds an unknown, returns its index
   */
  complete(options: readonly Option[], unknown: (input: UnknownInput) => number): ProductModel[] {
    const populations = options.flatMap(option => option.populations)
    return this.#names.map((name, model) => {
      const own = populations.filter(population => population.model === model)
      const spread = own[0]?.failure.modelSpread ?? 0
      return {
        name,
        multiplier: spread > 0 ? unknown(this.#multiplier(model, spread)) : null,
        oldestAgeYears: Math.max(0, ...own.map(population => population.ageYears)),
      }
    })
  }

  /** m of M4: gamma with mean 1 and coefficient of variation `spread`; a judgement unless the user states the spread (K4). */
  #multiplier(model: number, spread: number): UnknownInput {
    const name = this.#names[model] ?? ''
    const scale = spread * spread
    const point = (share: number) => gammaQuantile(share, 1 / scale, scale)
    return {
      name: `model_spread ${name}`,
      label: this.#labels[model] ?? name,
      unit: 'times the usual failures',
      low: point(0.1),
      middle: point(0.5),
      high: point(0.9),
      kind: 'multiplier',
      known: this.#stated[model] === true ? 'yours' : 'judgement',
    }
  }
}

function modelName(option: GivenOption, place: number): string {
  return option.components[place]?.model ?? `${option.name} / ${place}`
}
