import type { Population } from '../scenario/model/population.ts'
import type { Option, Scenario } from '../scenario/model.ts'

/** Scenarios that differ from another in one thing. All are copies; the original is unchanged. */

/** The scenario with one option changed. */
export function withOption(scenario: Scenario, place: number, change: (option: Option) => Option): Scenario {
  return { ...scenario, options: scenario.options.map((option, i) => (i === place ? change(option) : option)) }
}

/** The scenario with one population of an option changed. */
export function withPopulation(
  scenario: Scenario,
  option: number,
  place: number,
  change: (population: Population) => Population,
): Scenario {
  return withOption(scenario, option, one => ({
    ...one,
    populations: one.populations.map(population => (population.place === place ? change(population) : population)),
  }))
}

/**
 * The scenario with another parts term for one population; labour cover ends with the term (V1). An offer taken for it
 * gets the same term.
 */
export function withWarrantyYears(scenario: Scenario, option: number, place: number, years: number): Scenario {
  const covered = withPopulation(scenario, option, place, population => ({
    ...population,
    warranty: { ...population.warranty, years, labourYears: Math.min(population.warranty.labourYears, years) },
  }))
  return withOption(covered, option, one => ({
    ...one,
    offers: one.offers.map(offer => (offer.place === place && offer.taken ? { ...offer, years } : offer)),
  }))
}

/** The scenario with another labour term for one population, and for an offer taken for it. */
export function withLabourYears(scenario: Scenario, option: number, place: number, labourYears: number): Scenario {
  const covered = withPopulation(scenario, option, place, population => ({
    ...population,
    warranty: { ...population.warranty, labourYears },
  }))
  return withOption(covered, option, one => ({
    ...one,
    offers: one.offers.map(offer => (offer.place === place && offer.taken ? { ...offer, labourYears } : offer)),
  }))
}

/** The scenario with another visit policy for one option (O3). */
export function withVisitPolicy(scenario: Scenario, option: number, policy: Option['visitPolicy']): Scenario {
  return withOption(scenario, option, one => ({ ...one, visitPolicy: policy }))
}
