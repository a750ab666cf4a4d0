import type { History } from '../history/history.ts'
import type { Accounts } from './accounts.ts'
import { earnBattery } from './battery-earnings.ts'
import { buyLater } from './later-purchases.ts'
import type { OptionTerms } from './terms.ts'

/**
 * Enters the cost lines that come from the history whatever the cover: battery earnings (O7) and later purchases (C8).
 *
 * @param history - the lifetimes
 * @param terms - of the option
 * @param accounts - added to
 */
export function countEarningsAndPurchases(history: History, terms: OptionTerms, accounts: Accounts): void {
  earnBattery(history, terms, accounts)
  buyLater(history, terms, accounts)
}
