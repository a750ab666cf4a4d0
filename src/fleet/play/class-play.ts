import { optionParameters, unitParameters } from '../../history/parameters.ts'
import type { ProviderExits } from '../../history/provider-exits.ts'
import type { AgeTable } from '../../numerics/lives/age-table.ts'
import { DenseAges } from '../../numerics/lives/dense-ages.ts'
import type { OptionPlan } from '../../simulation/option-plan.ts'
import { type OptionSet, optionSet } from '../../simulation/option-set.ts'
import { planOf, prepare } from '../../simulation/run.ts'
import type { FleetChance, ModelDraws } from './fleet-chance.ts'
import type { FleetSets } from './fleet-sets.ts'
import type { SiteClass } from './site-class.ts'

/** What the preparation of a class of sites needs. */
export interface Workshop {
  readonly seed: number
  readonly sets: FleetSets
  readonly chance: FleetChance
  /** Age of the oldest unit of a model in the fleet, years. */
  readonly oldestAge: (model: string) => number
  /** Tables of ages by failure of a model, shared between classes. */
  readonly lives: Map<string, readonly AgeTable[]>
}

/** Failures whose tables are kept. Ours: each takes about five kilobytes a draw. */
const MOST_LIVES = 40

/** A class of sites prepared for play: its option in every draw, with common cause. */
export class ClassPlay {
  readonly siteClass: SiteClass
  readonly plan: OptionPlan
  /** By draw; ages of units are those of the class. */
  readonly sets: readonly OptionSet[]
  /** Models of the scenario that the option holds: place and draws. */
  readonly modelDraws: readonly (ModelDraws | undefined)[]
  /** Exits of providers, a lane a draw. */
  readonly partsExits: ProviderExits
  readonly labourExits: ProviderExits

  /**
   * @param siteClass - the class
   * @param workshop - of the thread
   */
  constructor(siteClass: SiteClass, workshop: Workshop) {
    const { scenario, option } = siteClass
    const { horizonYears } = scenario
    this.siteClass = siteClass
    this.plan = planOf(prepare(scenario, workshop.seed), 0)
    this.modelDraws = scenario.models.map((_, model) =>
      this.plan.modelsHere.includes(model) ? workshop.chance.drawsOf(scenario, model) : undefined,
    )
    const sets = workshop.sets.of(scenario).map(set => this.plan.at(set, false))
    const lives = option.populations.map((population, place) =>
      livesOf(siteClass, place, workshop.oldestAge(siteClass.modelOf(population)) + horizonYears, sets, workshop.lives),
    )
    this.sets = sets.map((set, draw) => {
      const units = set.parameters.units.map((unit, place) => {
        const multiplier = this.modelDraws[unit.model]?.multipliers[draw] ?? 1
        return unitParameters({ ...unit, multiplier, ages: lives[place]?.[draw] ?? unit.ages })
      })
      return optionSet({ ...set, parameters: optionParameters({ ...set.parameters, units }) })
    })
    const exits = (name: string, rate: (set: OptionSet) => number) =>
      workshop.chance.exitsOf(name, sets.map(rate), horizonYears)
    this.partsExits = exits(option.warrantyProvider.name, set => set.partsExitRate)
    this.labourExits = exits(option.labourProvider.name, set => set.labourExitRate)
  }
}

/** Tables up to the oldest unit of the fleet, so that no result depends on the order of the sites. */
function livesOf(
  siteClass: SiteClass,
  place: number,
  oldestYears: number,
  sets: readonly OptionSet[],
  kept: Map<string, readonly AgeTable[]>,
): readonly AgeTable[] {
  const signature = `${oldestYears} ${siteClass.signatureOf(place)}`
  const known = kept.get(signature)
  if (known !== undefined) return known
  if (kept.size >= MOST_LIVES) kept.clear()
  const tables = sets.map(({ parameters }) => new DenseAges(parameters.units[place]?.modes ?? [], oldestYears))
  kept.set(signature, tables)
  return tables
}
