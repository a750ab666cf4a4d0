import type { Scenario } from '../scenario/model.ts'
import type { Calendar } from './calendar.ts'
import { hourlyEnergy } from './hourly-energy.ts'
import { energyFromMonths } from './monthly.ts'
import type { OptionEnergy } from './option-energy.ts'
import { roofEnergy } from './roof-energy.ts'

/**
 * The energy of every option of a scenario, whatever form its generation is stated in.
 *
 * @param scenario - the scenario
 * @param calendar - months of the horizon
 * @returns one energy an option, in the order of the options
 */
export function energyOfOptions(scenario: Scenario, calendar: Calendar): OptionEnergy[] {
  const { site, options } = scenario
  const { generation } = site
  switch (generation.form) {
    case 'monthly':
      return energyFromMonths(generation, options, calendar)
    case 'arrays':
      return roofEnergy(site, generation, options, calendar)
    case 'hourly':
      return hourlyEnergy(site, generation, options, calendar)
    default:
      return generation satisfies never
  }
}
