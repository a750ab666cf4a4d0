import { power } from '../numerics/power.ts'
import { sumOf } from '../numerics/sum.ts'
import type { Option, Site } from '../scenario/model.ts'
import type { HourlyGeneration } from '../scenario/roof.ts'
import { isSunInverter } from '../topologies/kinds.ts'
import { DAYS_OF_MONTH, HOURS_PER_YEAR } from '../units.ts'
import { batteryByHours } from './battery/option-battery.ts'
import type { Calendar } from './calendar.ts'
import { monthStages, type PowerOnItsWay } from './harvest/delivery.ts'
import { type HouseholdSteps, householdOf, meterOf } from './meter.ts'
import type { OptionEnergy } from './option-energy.ts'
import { overYears, playedAges } from './over-years.ts'
import { partialLossOf } from './partial-loss.ts'

/**
 * Energy of every option from an hourly year of generation (E7, E2, C5, C7). The hours mean what `monthly_kwh` means:
 * AC energy after ordinary conversion. Mismatch, shade and conversion beyond that are the option's `design_losses`;
 * clipping at the rating of its inverters together, the export limit and the household are played hour by hour. A
 * clipping given in `design_losses` takes the place of the played one.
 *
 * @param site - prices, load, network
 * @param generation - 8,760 hours
 * @param options - the options, in order
 * @param calendar - months of the horizon
 * @returns one energy an option; ideal is the same for all
 */
export function hourlyEnergy(
  site: Site,
  generation: HourlyGeneration,
  options: readonly Option[],
  calendar: Calendar,
): OptionEnergy[] {
  const quotedFor = generation.asQuotedFor === null ? undefined : options[generation.asQuotedFor]
  const quotedLoss = quotedFor === undefined ? 0 : sumOf(Object.values(quotedFor.designLosses))
  const kept = (1 - quotedLoss) * (1 - generation.includesDowntime)
  const idealKw = generation.hourlyKwh.map(kwh => kwh / kept)
  const steps = hoursOfYear()
  const household = householdOf(site, steps, idealKw)
  return options.map(option => {
    const on = (factor: number): PowerOnItsWay => powerOf(option, idealKw, factor, generation.figures.subHourlyUplift)
    const meter = meterOf(site, option, household, 0)
    const played = playedAges(calendar.horizonYears).map(ageYears => ({
      ageYears,
      stages: monthStages(steps, on(power(1 - generation.degradation, ageYears)), meter),
    }))
    const middleAge = power(1 - generation.degradation, calendar.horizonYears / 2)
    const inverters = option.populations.filter(population => isSunInverter(population.kind))
    const lossy = {
      limitedKw: (dcFactor: number): Float64Array => on(middleAge * dcFactor).limitedKw,
      oneLimit: inverters.length === 1 && inverters[0]?.count === 1 && ratingKw(option) !== null,
    }
    const energy = overYears(played, generation.degradation, calendar, household.loadKnown)
    return {
      ...energy,
      partialLoss: partialLossOf(steps, lossy, meter, household.loadKnown),
      populationShares: null,
      batteryYear: batteryByHours(option, site, steps, () => on(1), meter, energy.deliverableKwh, calendar),
    }
  })
}

function powerOf(option: Option, idealKw: Float64Array, factor: number, uplift: number): PowerOnItsWay {
  const { mismatchAndShade, conversion, clipping } = option.designLosses
  const rating = ratingKw(option)
  const scaled = (share: number): Float64Array => idealKw.map(kw => kw * factor * share)
  const unlimitedKw = scaled(1 - mismatchAndShade - conversion)
  const limitedKw =
    clipping > 0 || rating === null
      ? scaled(1 - mismatchAndShade - conversion - clipping)
      : unlimitedKw.map(kw => (kw > rating ? Math.max(0, kw - (kw - rating) * uplift) : kw))
  return { idealKw: scaled(1), harvestKw: scaled(1 - mismatchAndShade), unlimitedKw, limitedKw }
}

/** AC rating of all solar inverters of an option; null where one has none. */
function ratingKw(option: Option): number | null {
  let sum = 0
  for (const { kind, acKw, count } of option.populations) {
    if (!isSunInverter(kind)) continue
    if (acKw === null) return null
    sum += acKw * count
  }
  return sum > 0 ? sum : null
}

function hoursOfYear(): HouseholdSteps {
  const month = new Uint8Array(HOURS_PER_YEAR)
  let hour = 0
  DAYS_OF_MONTH.forEach((days, index) => {
    month.fill(index, hour, hour + days * 24)
    hour += days * 24
  })
  return {
    form: 'hourly',
    nSteps: HOURS_PER_YEAR,
    month,
    solarHour: Float64Array.from({ length: HOURS_PER_YEAR }, (_, i) => (i % 24) + 0.5),
    slot: Uint16Array.from({ length: HOURS_PER_YEAR }, (_, i) => i),
    hours: new Float64Array(HOURS_PER_YEAR).fill(1),
  }
}
