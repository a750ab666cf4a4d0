/**
 * How the table of the months is made from energy and prices (T2, C4, C5).
 */
import { MONTHS_PER_YEAR } from '../../units.ts'
import type { EnergySupply, OptionTerms } from '../terms.ts'
import { type LostShare, lostShareOf, selfUsedFloor } from './energy-value.ts'
import type { MonthClock } from './month-clock.ts'
import { CUBIC, DISCOUNT, LINEAR, MIDDLE, type MonthTable, PACE, SUMS, WIDTH } from './month-table.ts'

/**
 * The table of rule C5.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy and discount
 * @param clock - of the run
 */
export function tableByRule(supply: EnergySupply, terms: OptionTerms, clock: MonthClock): MonthTable {
  return withSums(tabulate(supply, terms, clock), clock)
}

/**
 * The table of one lost share where a known load says what it loses: all of its value is in the linear part.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy and discount
 * @param clock - of the run
 * @param share - lost, (0, 1]
 * @param byRule - of rule C5, from which energy, discount and middle of each month are copied
 */
export function tableOfShare(
  supply: EnergySupply,
  terms: OptionTerms,
  clock: MonthClock,
  share: number,
  byRule: MonthTable,
): MonthTable {
  const numbers = byRule.numbers.slice()
  tabulateShare(supply, terms, share, clock, numbers)
  return withSums(numbers, clock)
}

/** A table with running sums over its whole months. */
function withSums(numbers: Float64Array, { months, starts }: MonthClock): MonthTable {
  const sums = new Float64Array(SUMS * (months + 1))
  for (let month = 0; month < months; month++) {
    const years = (starts[month + 1] as number) - (starts[month] as number) // every month has its entries
    const i = WIDTH * month
    const kwh = (numbers[i + PACE] as number) * years
    const at = SUMS * month
    sums[at + SUMS] = (sums[at] as number) + kwh
    sums[at + SUMS + 1] = (sums[at + 1] as number) + kwh * (numbers[i + DISCOUNT] as number)
    sums[at + SUMS + 2] = (sums[at + 2] as number) + (numbers[i + LINEAR] as number) * years
    sums[at + SUMS + 3] = (sums[at + 3] as number) + (numbers[i + CUBIC] as number) * years
  }
  return { numbers, sums, whole: new Float64Array(2 * (months + 1)), used: new Uint8Array(1) }
}

/** Sets the series of a sum of two values, each of which grows at a rate. */
function setSeries(table: Float64Array, i: number, a: number, rateOfA: number, b: number, rateOfB: number): void {
  table[i] = a + b
  table[i + 1] = a * rateOfA + b * rateOfB
  table[i + 2] = (a * rateOfA * rateOfA + b * rateOfB * rateOfB) / 2
}

/** Numbers of the table of rule C5. */
function tabulate(supply: EnergySupply, terms: OptionTerms, clock: MonthClock): Float64Array {
  const { discount, energy } = terms
  const { monthStart, deliverableKwh } = supply
  const importRate = energy.importGrowth.rate + discount.rate
  const exportRate = energy.exportGrowth.rate + discount.rate
  const discounts = clock.growth(discount.rate)
  const imports = clock.growth(importRate)
  const exports = clock.growth(exportRate)
  const table = new Float64Array(WIDTH * clock.months)
  for (let monthOfYear = 0; monthOfYear < MONTHS_PER_YEAR; monthOfYear++) {
    const years = (monthStart[monthOfYear + 1] ?? 1) - (monthStart[monthOfYear] ?? 0)
    const s = energy.selfConsumed[monthOfYear] ?? 0
    // self-used part of a lost share f: s·(floor + (1 − floor)·f²)
    const floor = selfUsedFloor(s)
    for (let month = monthOfYear; month < clock.months; month += MONTHS_PER_YEAR) {
      const i = WIDTH * month
      const kwh = (deliverableKwh[month] ?? 0) / years
      const imported = kwh * energy.importPrice * (imports[month] as number) // every month has its growth
      const exported = kwh * energy.exportPrice * (exports[month] as number)
      table[i + PACE] = kwh
      table[i + DISCOUNT] = discounts[month] as number
      table[i + MIDDLE] = clock.middles[month] as number
      setSeries(table, i + LINEAR, s * floor * imported, importRate, (1 - s * floor) * exported, exportRate)
      setSeries(table, i + CUBIC, s * (1 - floor) * imported, importRate, -s * (1 - floor) * exported, exportRate)
    }
  }
  return table
}

/** Replaces energy and value of rule C5 by those of one share under a known load. */
function tabulateShare(
  supply: EnergySupply,
  terms: OptionTerms,
  share: number,
  clock: MonthClock,
  table: Float64Array,
): void {
  const { discount, energy } = terms
  const importRate = energy.importGrowth.rate + discount.rate
  const exportRate = energy.exportGrowth.rate + discount.rate
  const imports = clock.growth(importRate)
  const exports = clock.growth(exportRate)
  const part: LostShare = { lost: 0, selfUsed: 0 }
  for (let monthOfYear = 0; monthOfYear < MONTHS_PER_YEAR; monthOfYear++) {
    lostShareOf(supply, energy, monthOfYear, share, part)
    for (let month = monthOfYear; month < clock.months; month += MONTHS_PER_YEAR) {
      const i = WIDTH * month
      const kwh = table[i + PACE] ?? 0
      table[i + PACE] = kwh * part.lost
      const imported = kwh * part.selfUsed * energy.importPrice * (imports[month] as number) // every month has its growth
      const exported = kwh * (part.lost - part.selfUsed) * energy.exportPrice * (exports[month] as number)
      setSeries(table, i + LINEAR, imported, importRate, exported, exportRate)
      setSeries(table, i + CUBIC, 0, 0, 0, 0)
    }
  }
}
