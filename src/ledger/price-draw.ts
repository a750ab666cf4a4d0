import type { History } from '../history/history.ts'
import type { Account, CoverTally } from './account.ts'
import { Claims, decideClaims } from './claims.ts'
import { loseOutages } from './outage-energy.ts'
import { payRepairs, type RowBills } from './repairs.ts'
import type { EnergySupply, OptionTerms, SharedChance } from './terms.ts'

const ownClaims = new Claims()

/**
 * What one history costs under given prices and terms (W, C): no chance in it.
 *
 * @param history - of one draw
 * @param terms - of the option in one parameter set
 * @param supply - energy of the option
 * @param chance - exits and ends of production of the draw
 * @param account - cleared and filled
 * @param tally - added to; null: not wanted
 * @param claims - filled with what the cover said
 * @param bills - filled with the bill of each row; null: not wanted
 */
export function priceDraw(
  history: History,
  terms: OptionTerms,
  supply: EnergySupply,
  chance: SharedChance,
  account: Account,
  tally: CoverTally | null = null,
  claims: Claims = ownClaims,
  bills: RowBills | null = null,
): void {
  account.clear()
  decideClaims(history, terms, chance, claims)
  payRepairs(history, terms, chance, claims, account, tally, bills)
  loseOutages(history, terms, supply, claims, account)
}
