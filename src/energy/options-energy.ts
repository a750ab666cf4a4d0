import type { Scenario } from '../scenario/model.ts'
import type { Calendar } from './calendar.ts'
import { energyFromMonths } from './monthly.ts'
import type { OptionEnergy } from './option-energy.ts'
import { roofEnergy } from './roof-energy.ts'

/**
 * The energy of every option of a scenario, whatever form its generation is stated in (sections 4 and 6).
 *
 * @param scenario - the scenario
 * @param calendar - months of the horizon
 * @returns one energy an option, in the order of the options
 */
export function energyOfOptions(scenario: Scenario, calendar: Calendar): OptionEnergy[] {
  const { generation } = scenario.site
  if (generation.form === 'monthly') return energyFromMonths(generation, scenario.options, calendar)
  if (generation.form === 'arrays') return roofEnergy(scenario.site, generation, scenario.options, calendar)
  throw new RangeError(`generation as ${generation.form} is not played yet`)
}
