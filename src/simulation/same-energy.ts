import type { OptionTerms } from '../ledger/terms.ts'

/**
 * Whether two terms of an option price energy alike, so that tables and design losses of the one hold for the other.
 *
 * @param a - of the option
 * @param b - of the same option
 */
export function sameEnergy(a: OptionTerms, b: OptionTerms): boolean {
  return (
    a.energy.importPrice === b.energy.importPrice &&
    a.energy.exportPrice === b.energy.exportPrice &&
    a.energy.importGrowth.rate === b.energy.importGrowth.rate &&
    a.energy.exportGrowth.rate === b.energy.exportGrowth.rate &&
    a.discount.rate === b.discount.rate &&
    a.battery?.valuePerDay === b.battery?.valuePerDay &&
    a.battery?.fadeRate === b.battery?.fadeRate &&
    a.energy.selfConsumed.every((share, month) => share === b.energy.selfConsumed[month])
  )
}
