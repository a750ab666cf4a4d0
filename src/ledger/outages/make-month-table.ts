/**
 * How the table of the months is made from energy and prices (T2, C4, C5).
 */
import { MONTHS_PER_YEAR } from '../../units.ts'
import type { EnergySupply, OptionTerms } from '../terms.ts'
import { type LostShare, lostShareOf, selfUsedFloor } from './energy-value.ts'
import { CUBIC, DISCOUNT, LINEAR, MIDDLE, type MonthTable, PACE, SUMS, WIDTH } from './month-table.ts'

/**
 * The table of rule C5.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy and discount
 * @param starts - start of every month, and the horizon
 */
export function tableByRule(supply: EnergySupply, terms: OptionTerms, starts: Float64Array): MonthTable {
  return withSums(tabulate(supply, terms), starts)
}

/**
 * The table of one lost share where a known load says what it loses: its linear part is the whole.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy and discount
 * @param starts - start of every month, and the horizon
 * @param share - lost, (0, 1]
 * @param byRule - of rule C5, of which it takes energy, discount and middle of each month
 */
export function tableOfShare(
  supply: EnergySupply,
  terms: OptionTerms,
  starts: Float64Array,
  share: number,
  byRule: MonthTable,
): MonthTable {
  const numbers = byRule.numbers.slice()
  tabulateShare(supply, terms, share, numbers)
  return withSums(numbers, starts)
}

/** A table with what its whole months come to. */
function withSums(numbers: Float64Array, starts: Float64Array): MonthTable {
  const months = starts.length - 1
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
  return { numbers, sums, whole: new Float64Array(2 * (months + 1)), used: false }
}

/** Growth and discount of a rate in the middle of every month: products, 37 exponentials in place of hundreds. */
class MonthGrowth {
  readonly rate: number
  readonly #inYear: Float64Array
  readonly #ofYear: Float64Array

  constructor(rate: number, monthStart: Float64Array, years: number) {
    this.rate = rate
    this.#inYear = Float64Array.from({ length: MONTHS_PER_YEAR }, (_, month) =>
      Math.exp((rate * ((monthStart[month] ?? 0) + (monthStart[month + 1] ?? 1))) / 2),
    )
    this.#ofYear = Float64Array.from({ length: years }, (_, year) => Math.exp(rate * year))
  }

  at(year: number, monthOfYear: number): number {
    return (this.#ofYear[year] ?? 1) * (this.#inYear[monthOfYear] ?? 1)
  }
}

/** Adds a value that grows at a rate to a series. */
function addSeries(table: Float64Array, i: number, value: number, rate: number): void {
  table[i] = (table[i] as number) + value // within the table
  table[i + 1] = (table[i + 1] as number) + value * rate
  table[i + 2] = (table[i + 2] as number) + (value * rate * rate) / 2
}

/** The table of rule C5, of which partial tables take the energy, discount and middle of each month. */
function tabulate(supply: EnergySupply, terms: OptionTerms): Float64Array {
  const { horizonYears, discount, energy } = terms
  const { monthStart, deliverableKwh } = supply
  const discounts = new MonthGrowth(discount.rate, monthStart, horizonYears)
  const imports = new MonthGrowth(energy.importGrowth.rate + discount.rate, monthStart, horizonYears)
  const exports =
    energy.exportGrowth.rate === energy.importGrowth.rate
      ? imports
      : new MonthGrowth(energy.exportGrowth.rate + discount.rate, monthStart, horizonYears)
  const table = new Float64Array(WIDTH * MONTHS_PER_YEAR * horizonYears)
  for (let monthOfYear = 0; monthOfYear < MONTHS_PER_YEAR; monthOfYear++) {
    const start = monthStart[monthOfYear] ?? 0
    const end = monthStart[monthOfYear + 1] ?? 1
    const s = energy.selfConsumed[monthOfYear] ?? 0
    // self-used part of a lost share f: s·(floor + (1 − floor)·f²)
    const floor = selfUsedFloor(s)
    for (let year = 0; year < horizonYears; year++) {
      const month = MONTHS_PER_YEAR * year + monthOfYear
      const i = WIDTH * month
      const kwh = (deliverableKwh[month] ?? 0) / (end - start)
      const imported = kwh * energy.importPrice * imports.at(year, monthOfYear)
      const exported = kwh * energy.exportPrice * exports.at(year, monthOfYear)
      table[i + PACE] = kwh
      table[i + DISCOUNT] = discounts.at(year, monthOfYear)
      table[i + MIDDLE] = year + (start + end) / 2
      addSeries(table, i + LINEAR, s * floor * imported, imports.rate)
      addSeries(table, i + LINEAR, (1 - s * floor) * exported, exports.rate)
      addSeries(table, i + CUBIC, s * (1 - floor) * imported, imports.rate)
      addSeries(table, i + CUBIC, -s * (1 - floor) * exported, exports.rate)
    }
  }
  return table
}

/** Energy and value of one share by the table of a known load, in place of those of rule C5. */
function tabulateShare(supply: EnergySupply, terms: OptionTerms, share: number, table: Float64Array): void {
  const { horizonYears, discount, energy } = terms
  const imports = new MonthGrowth(energy.importGrowth.rate + discount.rate, supply.monthStart, horizonYears)
  const exports = new MonthGrowth(energy.exportGrowth.rate + discount.rate, supply.monthStart, horizonYears)
  const part: LostShare = { lost: 0, selfUsed: 0 }
  for (let monthOfYear = 0; monthOfYear < MONTHS_PER_YEAR; monthOfYear++) {
    lostShareOf(supply, energy, monthOfYear, share, part)
    for (let year = 0; year < horizonYears; year++) {
      const i = WIDTH * (MONTHS_PER_YEAR * year + monthOfYear)
      const kwh = table[i + PACE] ?? 0
      table[i + PACE] = kwh * part.lost
      table.fill(0, i + LINEAR, i + WIDTH)
      addSeries(
        table,
        i + LINEAR,
        kwh * part.selfUsed * energy.importPrice * imports.at(year, monthOfYear),
        imports.rate,
      )
      const exported = kwh * (part.lost - part.selfUsed) * energy.exportPrice
      addSeries(table, i + LINEAR, exported * exports.at(year, monthOfYear), exports.rate)
    }
  }
}
