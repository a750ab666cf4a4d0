import { type MonthStages, yearKwh } from '../../src/energy/harvest/delivery.ts'
import { householdOf } from '../../src/energy/meter.ts'
import { optionOnRoof, stagesOf } from '../../src/energy/roof-energy.ts'
import { roofYear } from '../../src/energy/roof-year.ts'
import type { Option, Site } from '../../src/scenario/model.ts'
import type { ArraysGeneration } from '../../src/scenario/roof.ts'
import { site } from './roofs.ts'

/** The year of an option on a roof: kWh of the whole year, and the months behind them. */
export interface PlayedYear {
  readonly idealKwh: number
  readonly shadeShare: number
  readonly conversionShare: number
  readonly clippingShare: number
  readonly exportLimitShare: number
  readonly deliveredKwh: number
  readonly months: MonthStages
}

/** Plays year 0 of an option on a roof. */
export function play(roof: ArraysGeneration, option: Option, changes: Partial<Site> = {}): PlayedYear {
  const year = roofYear(roof)
  const at = site(roof, changes)
  const months = stagesOf(year, optionOnRoof(year, householdOf(at, year.sky, year.idealKw), at, option), 1)
  const idealKwh = yearKwh(months.idealKwh)
  const { shadeAndMismatch, conversion, clipping, exportLimit } = months.lossKwh
  return {
    idealKwh,
    shadeShare: yearKwh(shadeAndMismatch) / idealKwh,
    conversionShare: yearKwh(conversion) / idealKwh,
    clippingShare: yearKwh(clipping) / idealKwh,
    exportLimitShare: yearKwh(exportLimit) / idealKwh,
    deliveredKwh: yearKwh(months.deliveredKwh),
    months,
  }
}
