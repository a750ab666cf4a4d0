import type { Population } from '../../scenario/model/population.ts'
import type { Option, Scenario } from '../../scenario/model.ts'

/**
 * The scenario without a gap in reliability between tiers, and with the parts of all string inverters of a tier at one
 * price: that of the first of the plain tier, else of the first (K5).
 *
 * @param scenario - the scenario
 * @returns the changed one
 */
export function withSpareAlike(scenario: Scenario): Scenario {
  const tiered = scenario.options.flatMap(({ populations }) => populations.filter(hasTier))
  const reference = tiered.find(({ tier }) => tier === 'plain') ?? tiered[0]
  const alike = (population: Population): Population =>
    reference === undefined || !hasTier(population)
      ? population
      : { ...population, prices: { ...population.prices, parts: reference.prices.parts } }
  return {
    ...scenario,
    tierEffect: { fixed: 0 },
    options: scenario.options.map(option => ({ ...option, populations: option.populations.map(alike) })),
  }
}

/**
 * Whether the changed scenario changes the price of an option's spare.
 *
 * @param scenario - as written
 * @param option - place of the option
 */
export function movesSpare(scenario: Scenario, option: number): boolean {
  const partsOf = (one: Option | undefined): string =>
    JSON.stringify(one?.populations.map(({ prices }) => prices.parts))
  return partsOf(scenario.options[option]) !== partsOf(withSpareAlike(scenario).options[option])
}

function hasTier({ tier }: Population): boolean {
  return tier !== null
}
