import type { Stretch } from '../history/lifetimes.ts'
import type { Accounts, CoverTally } from './accounts.ts'
import { countBesideFailures } from './beside-failures.ts'
import { Claims, decideClaims } from './claims.ts'
import { loseOutages } from './outage-energy.ts'
import { payRepairs, type RowBills } from './repairs.ts'
import type { EnergySupply, OptionTerms } from './terms.ts'

const ownClaims = new Claims()

/**
 * What some lifetimes cost under given prices and terms (W, C): no chance in it. Four stages, each one pass over the
 * rows of all lifetimes.
 *
 * @param stretch - the lifetimes
 * @param terms - of the option in one parameter set
 * @param supply - energy of the option
 * @param accounts - emptied and filled, one account a lifetime
 * @param tally - added to; null: not wanted
 * @param claims - filled with what the cover said
 * @param bills - filled with the bill of each row; null: not wanted
 */
export function priceLifetimes(
  stretch: Stretch,
  terms: OptionTerms,
  supply: EnergySupply,
  accounts: Accounts,
  tally: CoverTally | null = null,
  claims: Claims = ownClaims,
  bills: RowBills | null = null,
): void {
  accounts.begin(stretch)
  decideClaims(stretch, terms, claims)
  payRepairs(stretch, terms, claims, accounts, tally, bills)
  loseOutages(stretch, terms, supply, claims, accounts)
  countBesideFailures(stretch, terms, accounts)
}
