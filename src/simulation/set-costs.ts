import { designEnergyByYear } from '../ledger/design-energy.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'

/** Costs of an option in one parameter set that no failure changes; present values. */
export class SetCosts {
  /** Yearly cost, paid in the middle of each year (C3). */
  readonly yearly: number
  /** Energy the design loses (C7). */
  readonly designEnergy: number
  /** Both by year. */
  readonly byYear: Float64Array
  /** Purchase, warranty price, yearly cost and energy the design loses. */
  readonly fixed: number
  /** What still works at the horizon (C6). */
  readonly residual: ResidualValue

  /**
   * @param plan - the option
   * @param set - the option in the parameter set
   */
  constructor(plan: OptionPlan, { terms, often }: Pick<OptionSet, 'terms' | 'often'>) {
    this.byYear = designEnergyByYear(plan.supply, terms.energy, terms.discount.rate, terms.horizonYears)
    this.designEnergy = this.byYear.reduce((sum, value) => sum + value, 0)
    this.yearly = 0
    for (let year = 0; year < terms.horizonYears; year++) {
      const paid = terms.yearlyCost * terms.discount.at(year + 0.5)
      this.yearly += paid
      this.byYear[year] = (this.byYear[year] ?? 0) + paid
    }
    this.fixed = terms.upfrontCost + terms.warrantyPrice + this.yearly + this.designEnergy
    this.residual = new ResidualValue(terms, often)
  }
}
