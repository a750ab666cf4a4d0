import { COST_LINES, type FixedLine } from './cost-lines.ts'
import { designEnergyByYear } from './design-energy.ts'
import type { EnergySupply, OptionTerms } from './terms.ts'

/** A fixed cost: one amount at the start, or amounts by year; present values. */
type Payment = number | Float64Array

/** Formulas of the cost lines that no failure changes. */
const FORMULAS: Readonly<Record<FixedLine, (terms: OptionTerms, supply: EnergySupply) => Payment>> = {
  upfront: terms => terms.upfrontCost,
  warranty: terms => terms.warrantyPrice,
  yearly: ({ yearlyCost, discount, horizonYears }) =>
    // C3: in the middle of each year
    Float64Array.from({ length: horizonYears }, (_, year) => yearlyCost * discount.at(year + 0.5)),
  designEnergy: (terms, supply) => designEnergyByYear(supply, terms.energy, terms.discount.rate, terms.horizonYears),
}

const FIXED_LINES = Object.keys(FORMULAS) as FixedLine[] // keys of a full Record: the type is exact

/** Costs of an option in one parameter set that no failure changes; present values. */
export class FixedCosts {
  /** By line. */
  readonly lines: Readonly<Record<FixedLine, number>>
  /** Costs of each year, purchases excluded. */
  readonly byYear: Float64Array
  /** Sum of the lines, with their signs. */
  readonly total: number

  /**
   * @param terms - of the option
   * @param supply - energy of the option
   */
  constructor(terms: OptionTerms, supply: EnergySupply) {
    const lines: Partial<Record<FixedLine, number>> = {}
    this.byYear = new Float64Array(terms.horizonYears)
    let total = 0
    for (const line of FIXED_LINES) {
      const { sign } = COST_LINES[line]
      const payment = FORMULAS[line](terms, supply)
      let sum = 0
      if (typeof payment === 'number') sum = payment
      else {
        payment.forEach((amount, year) => {
          sum += amount
          this.byYear[year] = (this.byYear[year] ?? 0) + sign * amount
        })
      }
      lines[line] = sum
      total += sign * sum
    }
    this.lines = lines as Record<FixedLine, number> // FIXED_LINES has every one
    this.total = total
  }
}
