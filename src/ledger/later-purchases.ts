import type { History } from '../history/history.ts'
import type { Accounts } from './accounts.ts'
import type { OptionTerms } from './terms.ts'

/**
 * Enters what is bought later into the accounts of some lifetimes (C8): with its chance, in the middle of its year,
 * never past the horizon. No part of the cash (R1).
 *
 * @param history - the lifetimes
 * @param terms - of the option
 * @param accounts - added to
 */
export function buyLater({ n, later }: History, terms: OptionTerms, accounts: Accounts): void {
  terms.later.forEach(({ year, chance, cost }, purchase) => {
    const within = Math.floor(year)
    if (within >= terms.horizonYears) return
    const present = cost * terms.discount.at(within + 0.5)
    const uniforms = later[purchase]
    for (let i = 0; i < n; i++) {
      if ((uniforms?.[i] ?? 1) >= chance) continue
      accounts.later[i] = (accounts.later[i] ?? 0) + present
      accounts.presentByYear[within] = (accounts.presentByYear[within] ?? 0) + present
    }
  })
}
