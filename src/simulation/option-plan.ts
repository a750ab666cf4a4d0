import { batteryValuePerDay } from '../energy/battery/battery-year.ts'
import type { Calendar } from '../energy/calendar.ts'
import type { OptionEnergy } from '../energy/option-energy.ts'
import { EvenPoints } from '../history/even-points.ts'
import {
  type LifeParameters,
  type OptionParameters,
  optionParameters,
  type UnitParameters,
  unitParameters,
} from '../history/parameters.ts'
import { EnergyTables } from '../ledger/outages/energy-tables.ts'
import { type EnergySupply, energySupply, type OptionTerms } from '../ledger/terms.ts'
import { CompoundFactor } from '../numerics/compound-factor.ts'
import type { Mode } from '../numerics/lives/competing-risks.ts'
import { SOBOL_DIMENSIONS } from '../numerics/random/sobol.ts'
import { type StreamKey, streamKey } from '../numerics/random/streams.ts'
import { modesAt, tierEffectAt } from '../scenario/failure-at.ts'
import type { Option, Provider, Scenario } from '../scenario/model.ts'
import { type Quantity, type Scores, valueAt } from '../scenario/quantity.ts'
import { unitShares } from '../scenario/unit-shares.ts'
import { TOPOLOGIES } from '../topologies/index.ts'
import { type ComponentKind, hangsOnString, kindOf } from '../topologies/kinds.ts'
import { DAYS_PER_YEAR } from '../units.ts'
import { Lives } from './lives.ts'
import { type ModelParameters, modelParameters } from './model-parameters.ts'
import { type OptionSet, optionSet } from './option-set.ts'
import type { ParameterSet, Points } from './parameter-sets.ts'
import { sameEnergy } from './same-energy.ts'
import { stringShares } from './string-shares.ts'
import { coverAt, delayParameters, unitTerms } from './unit-terms.ts'

/** Exits of a provider a year, at most: one a week. Ours. */
const MOST_EXITS_PER_YEAR = 52

/** An option prepared for play: all that does not change from set to set. */
export class OptionPlan {
  readonly scenario: Scenario
  readonly option: Option
  readonly supply: EnergySupply
  /** Streams that belong to models and providers, the same in every option (N3). */
  readonly batchKeys: readonly StreamKey[]
  readonly productionKeys: readonly StreamKey[]
  readonly partsProviderKey: StreamKey
  readonly labourProviderKey: StreamKey
  /** Of what may be bought later, by its name alone (C8). */
  readonly laterKeys: readonly StreamKey[]
  /** Models that occur in this option. */
  readonly modelsHere: readonly number[]
  readonly #calendar: Calendar
  readonly #unitKeys: readonly StreamKey[]
  readonly #even: readonly (EvenPoints | null)[]
  readonly #unitShares: Float64Array
  readonly #stringShares: Float64Array
  readonly #lives: Lives
  readonly #discount: CompoundFactor
  #tables: EnergyTables | null = null
  /** The terms for which they were made. */
  #tablesFor: OptionTerms | null = null
  /** Growths that are the same in every set, by rate. */
  readonly #growths = new Map<number, CompoundFactor>()

  /**
   * @param scenario - the scenario
   * @param index - which of its options
   * @param energy - of that option
   * @param calendar - months of the horizon
   * @param seed - of the run
   * @param points - random, or evenly spread
   */
  constructor(
    scenario: Scenario,
    index: number,
    energy: OptionEnergy,
    calendar: Calendar,
    seed: number,
    points: Points,
  ) {
    const option = scenario.options[index]
    if (option === undefined) throw new RangeError(`no option ${index}`)
    const key = (...words: (string | number)[]): StreamKey => streamKey(seed, JSON.stringify(words))
    this.scenario = scenario
    this.option = option
    this.supply = energySupply({ ...energy, monthStart: calendar.monthStart, calendarMonth: calendar.calendarMonth })
    this.batchKeys = scenario.models.map(model => key('batch', model.name))
    this.productionKeys = scenario.models.map(model => key('production', model.name))
    this.partsProviderKey = key('provider', option.warrantyProvider.name)
    this.labourProviderKey = key('provider', option.labourProvider.name)
    this.laterKeys = option.later.map(({ name }) => key('later', name))
    this.modelsHere = [...new Set(option.populations.map(population => population.model))]
    this.#calendar = calendar
    this.#lives = new Lives(scenario.horizonYears)
    this.#discount = new CompoundFactor(-Math.log1p(scenario.discountRate), scenario.horizonYears)
    const before = scenario.options.slice(0, index).reduce((sum, { populations }) => sum + populations.length, 0)
    this.#even = option.populations.map(({ place }) =>
      // every population has a coordinate of its own; populations past the last coordinate are drawn at random
      points === 'even' && before + place < SOBOL_DIMENSIONS
        ? new EvenPoints(before + place, key('even', option.name, place))
        : null,
    )
    this.#unitKeys = option.populations.map(population => key('option', option.name, 'component', population.place))
    this.#unitShares = unitShares(option, scenario.site.panels, energy.populationShares)
    this.#stringShares = stringShares(option, this.#unitShares)
  }

  /**
   * The option in a parameter set.
   *
   * @param set - the parameter set
   * @param dense - whether its tables are dense; worthwhile from thousands of draws
   * @param kept - whether lives are kept with the set for the other options of the run
   */
  at(set: ParameterSet, dense: boolean = this.scenario.unknowns.length === 0, kept = false): OptionSet {
    const { option } = this
    const models = modelParameters(this.scenario, set, this.modelsHere)
    const modes = this.#modesAt(set)
    const lives = option.populations.map(({ ageYears }, i) =>
      this.#lives.of(i, modes[i] ?? [], ageYears, dense, kept ? set : null),
    )
    return optionSet({
      parameters: this.#parameters(set.scores, lives, models),
      terms: this.#terms(
        set.scores,
        lives.map(life => life.modes),
        dense,
      ),
      models,
      partsExitRate: exitRate(option.warrantyProvider, set),
      labourExitRate: exitRate(option.labourProvider, set),
      dense,
    })
  }

  /**
   * Only the prices of the option in a parameter set, for histories that are already played.
   *
   * @param set - the parameter set
   */
  pricesAt(set: ParameterSet): Pick<OptionSet, 'terms' | 'dense'> {
    return { terms: this.#terms(set.scores, this.#modesAt(set), false), dense: false }
  }

  /**
   * The energy of the option under prices, tabulated for many outages; made once for sets with the same prices of
   * energy.
   *
   * @param terms - of a parameter set
   */
  tablesFor(terms: OptionTerms): EnergyTables {
    if (this.#tables === null || this.#tablesFor === null || !sameEnergy(terms, this.#tablesFor)) {
      this.#tables = new EnergyTables(this.supply, terms)
      this.#tablesFor = terms
    }
    return this.#tables
  }

  #modesAt(set: ParameterSet): readonly (readonly Mode[])[] {
    const effect = tierEffectAt(this.scenario.tierEffect, unknown => set.uniforms[unknown] ?? 0.5)
    return this.option.populations.map(population => modesAt(population.failure, set.scores, effect))
  }

  #parameters(scores: Scores, lives: readonly LifeParameters[], models: readonly ModelParameters[]): OptionParameters {
    const { option } = this
    // each kind is assigned to the strings separately
    const dealt = new Map<ComponentKind, number>()
    const units = option.populations.flatMap((population, i): UnitParameters[] => {
      const life = lives[i]
      if (life === undefined) return []
      const { failure, kind } = population
      const dealtBefore = dealt.get(kind) ?? 0
      dealt.set(kind, dealtBefore + population.count)
      const batch = failure.badBatch
      const multiplier = models[population.model]?.multiplier ?? 1
      return [
        unitParameters({
          place: population.place,
          count: population.count,
          ageYears: population.ageYears,
          ...life,
          multiplier,
          model: population.model,
          batch: batch === null ? null : { affects: valueAt(batch.affects, scores), lifeTimes: batch.lifeTimes },
          detect: delayParameters(population.detect, scores),
          detectUnmonitored: delayParameters(population.detectUnmonitored, scores),
          respond: delayParameters(population.respond, scores),
          repair: delayParameters(population.repair, scores),
          isGateway: kindOf(kind).monitors,
          needsVisit: population.needsVisit,
          repairRule: population.repairRule && {
            renews: population.repairRule.renews,
            atMost: population.repairRule.atMost ?? Infinity,
          },
          replaceAtAgeYears: population.replaceAtAgeYears ?? Infinity,
          takesStringDown: valueAt(population.takesStringDown, scores),
          strings: hangsOnString(kind) ? this.#stringShares.length : 0,
          dealtBefore,
          even: this.#even[i] ?? null,
          key: this.#unitKeys[i] ?? { high: 0, low: 0 },
        }),
      ]
    })
    const nGateways = units.reduce((sum, { isGateway, count }) => sum + (isGateway ? count : 0), 0)
    return optionParameters({
      horizonYears: this.scenario.horizonYears,
      units,
      visitPolicy: option.visitPolicy && {
        waitForUnits: option.visitPolicy.waitForUnits,
        waitAtMostYears: option.visitPolicy.waitAtMostDays / DAYS_PER_YEAR,
      },
      monitoring: nGateways > 0 ? 'gateways' : option.monitoring === 'none' ? 'never' : 'always',
      nUnits: units.reduce((sum, { count }) => sum + count, 0),
      nGateways,
    })
  }

  /** A growth of prices: tabulated where it is the same in every set, or where tables are dense. */
  #growth(perYear: Quantity, scores: Scores, dense: boolean): CompoundFactor {
    const rate = Math.log1p(valueAt(perYear, scores))
    // a rate that differs from set to set is used too seldom for a table
    if (!dense && typeof perYear === 'object' && 'unknown' in perYear) return new CompoundFactor(rate)
    const growth = this.#growths.get(rate) ?? new CompoundFactor(rate, this.scenario.horizonYears)
    this.#growths.set(rate, growth)
    return growth
  }

  /** What the battery earns a day when new (O7); 0 where that is not known. */
  #batteryValue(scores: Scores, selfConsumed: readonly number[]): number {
    const worth = this.option.battery?.worth ?? null
    if (worth?.form === 'stated') return valueAt(worth.valuePerDay, scores)
    const year = this.supply.batteryYear
    if (year === null) return 0
    const { importPricePerKwh, exportPricePerKwh } = this.scenario.site.energyValue
    return batteryValuePerDay(year, {
      importPrice: valueAt(importPricePerKwh, scores),
      exportPrice: valueAt(exportPricePerKwh, scores),
      selfConsumed,
    })
  }

  #terms(scores: Scores, modes: readonly (readonly Mode[])[], dense: boolean): OptionTerms {
    const { scenario, option } = this
    const taken = option.offers.filter(offer => offer.taken)
    const batteryNeedsInverter = TOPOLOGIES[option.topology].batteryNeedsInverter
    const { energyValue } = scenario.site
    const months = this.#calendar.calendarMonth
    const selfConsumed =
      typeof energyValue.selfConsumed === 'object' && !('unknown' in energyValue.selfConsumed)
        ? energyValue.selfConsumed
        : new Array<number>(12).fill(valueAt(energyValue.selfConsumed, scores))
    return {
      horizonYears: scenario.horizonYears,
      discount: this.#discount,
      upfrontCost: option.upfrontCost,
      warrantyPrice: taken.reduce((sum, offer) => sum + offer.price, 0),
      yearlyCost: valueAt(option.yearlyCost, scores),
      later: option.later.map(({ year, chance, cost }) => ({
        year: valueAt(year, scores),
        chance: valueAt(chance, scores),
        cost: valueAt(cost, scores),
      })),
      callOut: valueAt(scenario.visit.callOut, scores),
      roofAccess: valueAt(scenario.visit.roofAccess, scores),
      labourGrowth: this.#growth(scenario.visit.labourGrowth, scores, dense),
      units: option.populations.map((population, i) => {
        const offer = taken.find(({ place }) => place === population.place)
        const cover = coverAt(population.warranty, offer, scores)
        const partsGrowth = this.#growth(population.prices.partsGrowth, scores, dense)
        return unitTerms(population, cover, partsGrowth, modes[i] ?? [], this.#unitShares[i] ?? 0, scores)
      }),
      stringShares: this.#stringShares,
      energy: {
        importPrice: valueAt(energyValue.importPricePerKwh, scores),
        exportPrice: valueAt(energyValue.exportPricePerKwh, scores),
        importGrowth: this.#growth(energyValue.importGrowth, scores, dense),
        exportGrowth: this.#growth(energyValue.exportGrowth, scores, dense),
        selfConsumed: Float64Array.from(months, month => selfConsumed[month] ?? 0),
      },
      battery: option.battery && {
        valuePerDay: this.#batteryValue(scores, selfConsumed),
        fadeRate: option.battery.worth?.form === 'computed' ? Math.log1p(-option.battery.worth.fadePerYear) : 0,
        lostWithoutSun: batteryNeedsInverter ? 1 : 1 - option.battery.withoutSun,
        backup: option.battery.backup,
        backupNeedsInverter: batteryNeedsInverter,
      },
    }
  }
}

/** Exits a year of a provider (W5); the far tail of a wide range is cut where it no longer matters. */
function exitRate(provider: Provider, set: ParameterSet): number {
  return Math.min(valueAt(provider.exitRatePerYear, set.scores), MOST_EXITS_PER_YEAR)
}
