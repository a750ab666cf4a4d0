import { power } from '../numerics/power.ts'
import type { Option, Site } from '../scenario/model.ts'
import type { ArraysGeneration } from '../scenario/roof.ts'
import { batteryByHours } from './battery/option-battery.ts'
import type { Calendar } from './calendar.ts'
import {
  acPower,
  type Meter,
  type MonthStages,
  monthStages,
  type PowerOnItsWay,
  powerOnItsWay,
  yearKwh,
} from './harvest/delivery.ts'
import type { Harvest } from './harvest/device.ts'
import { harvestOf } from './harvest/harvest.ts'
import { type Household, householdOf, meterOf } from './meter.ts'
import type { OptionEnergy } from './option-energy.ts'
import { overYears, playedAges } from './over-years.ts'
import { fittedPanels } from './panels/fitted-panels.ts'
import { type LossyPower, partialLossOf } from './partial-loss.ts'
import { type RoofYear, roofYear } from './roof-year.ts'

/** One option on a roof: its harvest and its meter. */
export interface OptionOnRoof {
  readonly harvest: Harvest
  readonly meter: Meter
  /** Factor on clipped energy: what hourly means hide (1 for a built year, whose half-hours hold its peaks). */
  readonly clippingUplift: number
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
  const kept = (ageYears: number): number => power(1 - generation.degradation, ageYears)
  return options.map(option => {
    const on = optionOnRoof(roof, household, site, option)
    const { devices, populationShares } = on.harvest
    const played = playedAges(calendar.horizonYears).map(ageYears => ({
      ageYears,
      stages: stagesOf(roof, on, kept(ageYears)),
    }))
    const middleAge = kept(calendar.horizonYears / 2)
    const lossy: LossyPower = {
      limitedKw: dcFactor => acPower(devices, roof.sky.nSteps, middleAge * dcFactor, on.clippingUplift).limitedKw,
      oneLimit: devices.length === 1 && devices[0]?.units === 1,
    }
    const energy = overYears(played, generation.degradation, calendar, household.loadKnown)
    const firstYear = (): PowerOnItsWay => powerOnItsWay(roof.idealKw, devices, on.clippingUplift, 1)
    return {
      ...energy,
      partialLoss: partialLossOf(roof.sky, lossy, on.meter, household.loadKnown),
      populationShares,
      batteryYear: batteryByHours(option, site, roof.sky, firstYear, on.meter, energy.deliverableKwh, calendar),
    }
  })
}

/**
 * An option on a roof (E2–E6).
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
  return {
    harvest: harvestOf(roof, option, fitted),
    meter: meterOf(site, option, household, figures.acWiringLoss),
    clippingUplift: roof.sky.form === 'hourly' ? figures.subHourlyUplift : 1,
  }
}

/**
 * A year's energy of an option on a roof by month and cause.
 *
 * @param roof - the roof
 * @param on - the option on it
 * @param factor - share of year 0 that the panels give, (0, 1]
 * @returns energies by calendar month
 */
export function stagesOf(roof: RoofYear, on: OptionOnRoof, factor: number): MonthStages {
  return monthStages(roof.sky, powerOnItsWay(roof.idealKw, on.harvest.devices, on.clippingUplift, factor), on.meter)
}

/**
 * Energy that an option delivers from a roof in year 0.
 *
 * @param roof - the roof
 * @param on - the option on it
 * @returns kWh
 */
export function deliveredKwh(roof: RoofYear, on: OptionOnRoof): number {
  return yearKwh(stagesOf(roof, on, 1).deliveredKwh)
}
