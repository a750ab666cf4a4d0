import { DAYS_PER_YEAR } from '../../units.ts'

/** What a new battery shifts in the first year, from which its value at any price follows (O7). */
export type BatteryYear =
  /** Played hour by hour. */
  | {
      readonly form: 'played'
      /** Given to the household in place of bought energy, kWh. */
      readonly dischargedKwh: number
      /** Charged with what would have been sold, kWh; what was clipped or over the export limit is free. */
      readonly unsoldKwh: number
    }
  /** From the published points of self-consumption. */
  | {
      readonly form: 'points'
      /** Share of the generation used in addition, where the household leaves that much. */
      readonly addedShare: number
      /** Generation of the first year by calendar month, kWh, January first. */
      readonly monthKwh: Float64Array
      readonly roundTrip: number
    }

/** Prices on which the value of a battery depends. */
export interface BatteryPrices {
  readonly importPrice: number
  readonly exportPrice: number
  /** Share used on the spot without a battery, by calendar month, January first. */
  readonly selfConsumed: ArrayLike<number>
}

/**
 * What a new battery earns a day (O7): energy not bought, less energy not sold.
 *
 * @param year - what it moves in the first year
 * @param prices - of a kWh
 * @returns money a day, >= 0: a battery that would only lose money is left idle
 */
export function batteryValuePerDay(year: BatteryYear, prices: BatteryPrices): number {
  const { importPrice, exportPrice, selfConsumed } = prices
  if (year.form === 'played') {
    return Math.max(0, year.dischargedKwh * importPrice - year.unsoldKwh * exportPrice) / DAYS_PER_YEAR
  }
  let usedKwh = 0
  year.monthKwh.forEach((kwh, month) => {
    usedKwh += kwh * Math.min(year.addedShare, 1 - (selfConsumed[month] ?? 0))
  })
  return Math.max(0, usedKwh * (importPrice - exportPrice / year.roundTrip)) / DAYS_PER_YEAR
}
