import { sumOf } from '../../numerics/sum.ts'
import type { Population } from '../../scenario/model/population.ts'
import type { Option, Scenario } from '../../scenario/model.ts'

/** Sites that share everything but their ages and the size of their yield. */
export class SiteClass {
  readonly scenario: Scenario
  readonly key: string
  /** Whether models and providers without a name are the site's own (folders). */
  readonly standsAlone: boolean
  readonly option: Option
  /** Ages of the populations where the site gives none, years. */
  readonly ages: readonly number[]
  /** Energy of a year as the scenario states it, kWh; 1 where it is not stated by months. */
  readonly yearlyKwh: number
  /** Terms that hold for the whole fleet, and must be equal in every site. */
  readonly fleetTerms: string
  /** What its sites share by name with others: models and providers, each with what must agree. */
  readonly shared: readonly (readonly [name: string, signature: string])[]
  readonly #signatures: string[] = []

  /**
   * @param scenario - its first option is on the roofs
   * @param key - identifies the class; the id of a site that stands alone
   * @param standsAlone - from a file of its own
   */
  constructor(scenario: Scenario, key: string, standsAlone: boolean) {
    const option = scenario.options[0]
    if (option === undefined) throw new RangeError('a site needs an option')
    this.scenario = scenario
    this.key = key
    this.standsAlone = standsAlone
    this.option = option
    this.ages = option.populations.map(population => population.ageYears)
    const { generation } = scenario.site
    this.yearlyKwh = generation.form === 'monthly' ? sumOf(generation.monthlyKwh) : 1
    const { currency, horizonYears, startMonth, reserve } = scenario
    this.fleetTerms = JSON.stringify([currency, horizonYears, startMonth, reserve])
    this.shared = this.#sharedNames()
  }

  /** Whether a model is one site's own, for it was given no name. */
  isOwnModel(name: string): boolean {
    return this.standsAlone && name.startsWith(`${this.key} / `)
  }

  #sharedNames(): [name: string, signature: string][] {
    const models = this.option.populations
      .filter(one => !this.isOwnModel(this.modelOf(one)))
      .map((one): [string, string] => [`model ${this.modelOf(one)}`, this.signatureOf(one.place)])
    const providers = (['warrantyProvider', 'labourProvider'] as const)
      .map(role => this.option[role])
      .filter(({ name }) => !(this.standsAlone && name.endsWith(` of ${this.key}`)))
      // the chance that a maker, that an installer stops: equal for one name (W5)
      .map(({ name, exitRatePerYear }): [string, string] => [`provider ${name}`, this.#said(exitRatePerYear)])
    return [...models, ...providers]
  }

  /** Name of the model of a population. */
  modelOf(population: Population): string {
    return this.scenario.models[population.model]?.name ?? ''
  }

  /** Model and provider under which the site is counted: those of its first component. */
  get leadModel(): string {
    const first = this.option.populations[0]
    return first === undefined ? '' : this.modelOf(first)
  }

  /**
   * What all populations of one model must agree in (M4): kind, tier, failure, successor.
   *
   * @param place - of the population
   * @returns text that is equal where they agree
   */
  signatureOf(place: number): string {
    const known = this.#signatures[place]
    if (known !== undefined) return known
    const population = this.option.populations[place]
    const signature =
      population === undefined
        ? ''
        : this.#said([population.kind, population.tier, population.failure, population.successor])
    this.#signatures[place] = signature
    return signature
  }

  /** As JSON, unknowns by their names. */
  #said(value: unknown): string {
    return JSON.stringify(value, (key, child: unknown) =>
      (key === 'unknown' || key === 'multiplier') && typeof child === 'number'
        ? (this.scenario.unknowns[child]?.name ?? child)
        : child,
    )
  }
}
