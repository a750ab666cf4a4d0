import { power } from '../numerics/power.ts'
import type { MonthlyGeneration, Option } from '../scenario/model.ts'
import { MONTHS_PER_YEAR } from '../units.ts'
import { batteryByPoints } from './battery/option-battery.ts'
import type { Calendar } from './calendar.ts'
import type { DesignLoss, OptionEnergy } from './option-energy.ts'

/**
 * Energy of every option from twelve kWh (T3): ideal = quoted / (1 − design losses of the option it was quoted for) /
 * (1 − includes_downtime); year k gives (1 − degradation)^k of it; each option loses its `design_losses`.
 *
 * @param generation - twelve kWh, January first
 * @param options - the options of the scenario, in order
 * @param calendar - months of the horizon
 * @returns one energy an option; ideal is the same array for all
 */
export function energyFromMonths(
  generation: MonthlyGeneration,
  options: readonly Option[],
  calendar: Calendar,
): OptionEnergy[] {
  const quotedFor = generation.asQuotedFor === null ? undefined : options[generation.asQuotedFor]
  const kept = (quotedFor === undefined ? 1 : 1 - totalLoss(quotedFor)) * (1 - generation.includesDowntime)
  const months = calendar.horizonYears * MONTHS_PER_YEAR
  const idealKwh = new Float64Array(months)
  for (let i = 0; i < months; i++) {
    const month = calendar.calendarMonth[i % MONTHS_PER_YEAR] ?? 0
    const year = Math.floor(i / MONTHS_PER_YEAR)
    idealKwh[i] = ((generation.monthlyKwh[month] ?? 0) / kept) * power(1 - generation.degradation, year)
  }
  return options.map(option => {
    const share: Record<DesignLoss, number> = {
      clipping: option.designLosses.clipping,
      shadeAndMismatch: option.designLosses.mismatchAndShade,
      conversion: option.designLosses.conversion,
      exportLimit: 0,
    }
    const lost = (loss: DesignLoss): Float64Array => idealKwh.map(kwh => kwh * share[loss])
    return {
      idealKwh,
      designLossKwh: {
        clipping: lost('clipping'),
        shadeAndMismatch: lost('shadeAndMismatch'),
        conversion: lost('conversion'),
        exportLimit: lost('exportLimit'),
      },
      deliverableKwh: idealKwh.map(kwh => kwh * (1 - totalLoss(option))),
      partialLoss: null,
      designLossSelfUsedKwh: null,
      designLossUnpaidKwh: null,
      populationShares: null,
      batteryYear: batteryByPoints(
        option,
        idealKwh.map(kwh => kwh * (1 - totalLoss(option))),
        calendar,
      ),
    }
  })
}

function totalLoss(option: Option): number {
  const { clipping, mismatchAndShade, conversion } = option.designLosses
  return clipping + mismatchAndShade + conversion
}
