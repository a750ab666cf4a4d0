import type { Stretch } from '../history/lifetimes.ts'
import type { Accounts } from './accounts.ts'
import { earnBattery } from './battery-earnings.ts'
import { buyLater } from './later-purchases.ts'
import type { OptionTerms } from './terms.ts'

/**
 * Enters the cost lines that come from the history whatever the cover: battery earnings (O7) and later purchases (C8).
 *
 * @param stretch - the lifetimes
 * @param terms - of the option
 * @param accounts - added to
 */
export function countBesideFailures(stretch: Stretch, terms: OptionTerms, accounts: Accounts): void {
  earnBattery(stretch, terms, accounts)
  buyLater(stretch, terms, accounts)
}
