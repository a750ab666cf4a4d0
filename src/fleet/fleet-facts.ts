import { valueAt } from '../scenario/quantity.ts'
import type { FleetFacts } from './part-file.ts'
import { FleetChance } from './play/fleet-chance.ts'
import { FleetSets } from './play/fleet-sets.ts'
import type { Census } from './sites/census.ts'
import type { FleetSource } from './sites/fleet-file.ts'

/**
 * What a fleet is, and what common cause did in its draws: all that its report says in addition to sums over sites.
 *
 * @param source - table or folder
 * @param census - of the fleet
 * @param command - command line that reproduces the results
 */
export function factsOf(source: FleetSource, census: Census, command: string): FleetFacts {
  const { frame } = census
  const sets = new FleetSets(frame.seed, frame.draws)
  const chance = new FleetChance(frame.seed, sets, frame.models)
  const draws = Array.from({ length: frame.draws }, (_, draw) => draw)
  return {
    title: source.title,
    source: source.form === 'table' ? source.sites : source.title,
    option: source.option,
    command,
    currency: frame.currency,
    horizonYears: frame.horizonYears,
    listed: frame.listed,
    sites: frame.sites,
    reserve: frame.reserve,
    namedModels: frame.namedModels,
    namedProviders: frame.namedProviders,
    modelFacts: frame.namedModels.flatMap(name => {
      const model = frame.models.find(one => one.name === name)
      if (model === undefined) return []
      const { struck } = chance.drawsOf(model.scenario, 0)
      return [{ name, struckInDraws: draws.filter(draw => struck[draw] === 1) }]
    }),
    providerExits: frame.namedProviders.flatMap(name => {
      const scenario = census.providerScenarios.get(name)
      const provider = scenario?.options[0]?.warrantyProvider
      if (scenario === undefined || provider === undefined) return []
      const rates = sets.of(scenario).map(set => valueAt(provider.exitRatePerYear, set.scores))
      const exits = chance.exitsOf(name, rates, frame.horizonYears)
      return [{ name, goneInDraws: draws.filter(draw => exits.any(draw)) }]
    }),
    groupSizes: frame.groupSizes,
    ignoredColumns: census.ignoredColumns,
    laterNames: census.laterNames,
    unknownAges: census.unknownAges,
    uncountedSurvivors: census.uncountedSurvivors,
  }
}
