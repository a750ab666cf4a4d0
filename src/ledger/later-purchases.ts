import type { Stretch } from '../history/lifetimes.ts'
import type { Accounts } from './accounts.ts'
import type { OptionTerms } from './terms.ts'

/**
 * Enters what is bought later into the accounts of some lifetimes (C8): with its chance, in the middle of its year,
 * never past the horizon. No part of the cash (R1).
 *
 * @param stretch - the lifetimes
 * @param terms - of the option
 * @param accounts - added to
 */
export function buyLater({ lifetimes, first, end }: Stretch, terms: OptionTerms, accounts: Accounts): void {
  terms.later.forEach(({ year, chance, cost }, purchase) => {
    const within = Math.floor(year)
    if (within >= terms.horizonYears) return
    const present = cost * terms.discount.at(within + 0.5)
    for (let i = 0; i < end - first; i++) {
      if ((lifetimes.chanceOf(first + i).later[purchase] ?? 1) >= chance) continue
      accounts.later[i] = (accounts.later[i] ?? 0) + present
      accounts.presentByYear[within] = (accounts.presentByYear[within] ?? 0) + present
    }
  })
}
