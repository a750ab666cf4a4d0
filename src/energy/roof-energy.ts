import type { Option, Site } from '../scenario/model.ts'
import type { ArraysGeneration } from '../scenario/roof.ts'
import type { Calendar } from './calendar.ts'
import { type Meter, type MonthStages, monthStages } from './delivery.ts'
import { fittedPanels } from './fitted-panels.ts'
import { type Harvest, harvestOf } from './harvest.ts'
import { type Household, householdOf, meterOf } from './meter.ts'
import type { OptionEnergy } from './option-energy.ts'
import { overYears, playedAges } from './over-years.ts'
import { partialLossOf } from './partial-loss.ts'
import { type RoofYear, roofYear } from './roof-year.ts'

/** A roof played through a year, with what one option makes of it. */
export interface OptionOnRoof {
  readonly harvest: Harvest
  readonly meter: Meter
}

/**
 * Energy of every option from the arrays of a roof (E1–E7, T3, C7): sun, sky, panels, shade, strings, inverters, limit
 * and household, played hour by hour at several ages of the panels.
 *
 * @param site - prices, load, network
 * @param generation - location and arrays
 * @param options - the options, in order
 * @param calendar - months of the horizon
 * @returns one energy an option; ideal is the same for all
 */
export function roofEnergy(
  site: Site,
  generation: ArraysGeneration,
  options: readonly Option[],
  calendar: Calendar,
): OptionEnergy[] {
  const roof = roofYear(generation)
  const household = householdOf(site, roof.sky, roof.idealKw)
  return options.map(option => {
    const { harvest, meter } = optionOnRoof(roof, household, site, option)
    const kept = (ageYears: number): number => (1 - generation.degradation) ** ageYears
    const played = playedAges(calendar.horizonYears).map(ageYears => ({
      ageYears,
      stages: stagesOf(roof, harvest, meter, kept(ageYears)),
    }))
    return {
      ...overYears(played, generation.degradation, calendar, household.loadKnown),
      partialLoss: partialLossOf(
        roof.sky,
        harvest.devices,
        meter,
        household.loadKnown,
        kept(calendar.horizonYears / 2),
      ),
      populationShares: harvest.populationShares,
    }
  })
}

/**
 * What an option makes of a roof (E2–E6).
 *
 * @param roof - the roof
 * @param household - the load
 * @param site - network
 * @param option - the option
 * @param fitted - array × panel: which have optimisers; left out: as the option says
 * @returns its devices and its meter
 */
export function optionOnRoof(
  roof: RoofYear,
  household: Household,
  site: Site,
  option: Option,
  fitted: readonly (readonly boolean[])[] = fittedPanels(roof, option),
): OptionOnRoof {
  const { figures } = roof.generation
  const uplift = roof.sky.form === 'hourly' ? figures.subHourlyUplift : 1
  return {
    harvest: harvestOf(roof, option, fitted),
    meter: meterOf(site, option, household, figures, uplift),
  }
}

/**
 * A year's energy of an option on a roof by month and cause.
 *
 * @param roof - the roof
 * @param harvest - what the option draws
 * @param meter - its meter
 * @param factor - share of year 0 that the panels give, (0, 1]
 * @returns energies by calendar month
 */
export function stagesOf(roof: RoofYear, harvest: Harvest, meter: Meter, factor: number): MonthStages {
  return monthStages(roof.sky, roof.idealKw, harvest.devices, meter, factor)
}
