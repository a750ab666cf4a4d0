import type { History } from '../history/history.ts'
import { Accounts, type CoverTally } from './accounts.ts'
import { Claims, decideClaims } from './claims.ts'
import { countEarningsAndPurchases } from './earnings-and-purchases.ts'
import type { EnergyTables } from './outages/energy-tables.ts'
import { Outages } from './outages/outages.ts'
import { payRepairs, RowBills } from './repairs.ts'
import type { OptionTerms } from './terms.ts'

/** What some lifetimes cost, with their claims, bills and outages; the memory is reused. */
export class Priced {
  readonly accounts: Accounts
  /** By population. */
  claims: readonly Claims[] = []
  bills: readonly RowBills[] = []
  readonly outages = new Outages()

  /** @param horizonYears - of the option */
  constructor(horizonYears: number) {
    this.accounts = new Accounts(horizonYears)
  }

  /**
   * Reserves memory for a history and clears the accounts.
   *
   * @param history - to be priced
   */
  begin(history: History): void {
    this.accounts.begin(history.n)
    if (this.claims.length === history.rows.length) return
    this.claims = history.rows.map(() => new Claims())
    this.bills = history.rows.map(() => new RowBills())
  }
}

/**
 * Prices some lifetimes under given prices and terms (W, C); draws nothing. Four stages, each over the rows of all
 * lifetimes.
 *
 * @param history - the lifetimes
 * @param terms - of the option in one parameter set
 * @param tables - of its energy
 * @param priced - emptied and filled
 * @param tally - added to; null: not wanted
 */
export function priceLifetimes(
  history: History,
  terms: OptionTerms,
  tables: EnergyTables,
  priced: Priced,
  tally: CoverTally | null = null,
): void {
  const { accounts } = priced
  priced.begin(history)
  decideClaims(history, terms, priced.claims)
  payRepairs(history, terms, priced.claims, accounts, tally, priced.bills)
  priced.outages.lose(history, terms, tables, priced.claims, accounts)
  countEarningsAndPurchases(history, terms, accounts)
}
