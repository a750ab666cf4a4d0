import { DESIGN_LOSSES } from '../energy/option-energy.ts'
import { MONTHS_PER_YEAR } from '../units.ts'
import { selfUsedPart } from './outages/energy-value.ts'
import type { EnergySupply, EnergyTerms } from './terms.ts'

/**
 * Present value of the energy a design loses while everything works, by year (C5, C7): shade, mismatch and conversion
 * are valued as a lost share of the month's ideal energy, clipped energy at the export price, energy over the export
 * limit at nothing.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy
 * @param discountRate - ln of the discount factor a year, <= 0
 * @param horizonYears - years
 * @returns Float64Array, one present value a year
 */
export function designEnergyByYear(
  supply: EnergySupply,
  terms: EnergyTerms,
  discountRate: number,
  horizonYears: number,
): Float64Array {
  const byYear = new Float64Array(horizonYears)
  if (DESIGN_LOSSES.every(loss => supply.designLossKwh[loss].every(kwh => kwh === 0))) return byYear
  const { monthStart } = supply
  const importRate = terms.importGrowth.rate + discountRate
  const exportRate = terms.exportGrowth.rate + discountRate
  // exp(rate·(year + middle)) as a product: 37 exponentials a rate instead of 300
  const importInYear = withinYear(monthStart, importRate)
  const exportInYear = withinYear(monthStart, exportRate)
  let importYear = 0
  let exportYear = 0
  for (let month = 0; month < horizonYears * MONTHS_PER_YEAR; month++) {
    const year = Math.floor(month / MONTHS_PER_YEAR)
    const monthOfYear = month % MONTHS_PER_YEAR
    if (monthOfYear === 0) {
      importYear = terms.importPrice * Math.exp(importRate * year)
      exportYear = terms.exportPrice * Math.exp(exportRate * year)
    }
    const clippedKwh = supply.designLossKwh.clipping[month] ?? 0
    const lostKwh = (supply.designLossKwh.shadeAndMismatch[month] ?? 0) + (supply.designLossKwh.conversion[month] ?? 0)
    const idealKwh = supply.idealKwh[month] ?? 0
    const known = supply.designLossSelfUsedKwh
    const selfUsedKwh =
      known !== null
        ? (known.shadeAndMismatch[month] ?? 0) + (known.conversion[month] ?? 0) + (known.clipping[month] ?? 0)
        : idealKwh === 0
          ? 0
          : lostKwh * selfUsedPart(terms.selfConsumed[monthOfYear] ?? 0, lostKwh / idealKwh)
    const unpaid = supply.designLossUnpaidKwh
    const unpaidKwh =
      unpaid === null
        ? 0
        : (unpaid.shadeAndMismatch[month] ?? 0) + (unpaid.conversion[month] ?? 0) + (unpaid.clipping[month] ?? 0)
    // A known load may give back sold energy: an inverter on one phase of three turns self-use into export.
    const soldKwh = lostKwh - selfUsedKwh + clippedKwh - unpaidKwh
    const exportedKwh = known === null ? Math.max(soldKwh, 0) : soldKwh
    const value =
      selfUsedKwh * importYear * (importInYear[monthOfYear] ?? 1) +
      exportedKwh * exportYear * (exportInYear[monthOfYear] ?? 1)
    byYear[year] = (byYear[year] ?? 0) + value
  }
  return byYear
}

/** Growth of a price to the middle of each month of a year, discounted. */
function withinYear(monthStart: Float64Array, rate: number): Float64Array {
  const factors = new Float64Array(MONTHS_PER_YEAR)
  for (let month = 0; month < MONTHS_PER_YEAR; month++) {
    factors[month] = Math.exp((rate * ((monthStart[month] ?? 0) + (monthStart[month + 1] ?? 0))) / 2)
  }
  return factors
}
