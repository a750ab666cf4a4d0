import type { History } from '../history/history.ts'
import { Account } from '../ledger/account.ts'
import { Claims, decideClaims } from '../ledger/claims.ts'
import { loseOutages } from '../ledger/outage-energy.ts'
import { payRepairs } from '../ledger/repairs.ts'
import type { CoverTerms, EnergySupply, OptionTerms, SharedChance } from '../ledger/terms.ts'
import type { Option } from '../scenario/model.ts'

/** What the owner pays for repairs and loses to outages in one lifetime, present values. */
export interface PaidAndLost {
  readonly paid: number
  readonly lost: number
}

/**
 * Prices one history under many terms of its first component and under the offers (V1, V2, W6): the same lifetimes,
 * other cover.
 */
export class WarrantySweep {
  readonly #supply: EnergySupply
  readonly #option: Option
  readonly #account: Account
  readonly #claims = new Claims()
  readonly #earlier = new Claims()
  #present: OptionTerms | null = null
  #terms: readonly OptionTerms[] = []
  #offers: readonly { readonly place: number; readonly present: OptionTerms; readonly offered: OptionTerms }[] = []

  /**
   * @param option - its offers
   * @param supply - energy of the option
   * @param horizonYears - terms run from 0 to it
   */
  constructor(option: Option, supply: EnergySupply, horizonYears: number) {
    this.#option = option
    this.#supply = supply
    this.#account = new Account(horizonYears)
  }

  /** Makes ready for a parameter set. */
  begin(terms: OptionTerms): void {
    this.#present = terms
    this.#terms = Array.from({ length: terms.horizonYears + 1 }, (_, years) =>
      withCover(terms, 0, { years, labourYears: Math.min(terms.units[0]?.cover.labourYears ?? 0, years) }),
    )
    this.#offers = this.#option.offers.map(offer => {
      const stated = this.#option.populations[offer.place]?.warranty
      return {
        place: offer.place,
        present: withCover(terms, offer.place, {
          years: stated?.years ?? 0,
          labourYears: stated?.labourYears ?? 0,
        }),
        offered: withCover(terms, offer.place, { years: offer.years, labourYears: offer.labourYears }),
      }
    })
  }

  /**
   * The history under the terms as they are.
   *
   * @param history - of one draw
   * @param chance - exits that count
   */
  asItIs(history: History, chance: SharedChance): PaidAndLost {
    const terms = this.#present
    if (terms === null) throw new RangeError('the sweep has no parameter set yet')
    decideClaims(history, terms, chance, this.#claims)
    return this.#price(history, terms, chance, null)
  }

  /**
   * The history under every term of the first component (V1).
   *
   * @param history - of one draw
   * @param chance - exits of the draw
   * @param present - the history under the terms as they are and the same exits
   * @param each - called with the term, 0 … horizon
   */
  terms(
    history: History,
    chance: SharedChance,
    present: PaidAndLost,
    each: (term: number, result: PaidAndLost) => void,
  ): void {
    const touched = hasRows(history, 0)
    let result = present
    for (let term = 0; term < this.#terms.length; term++) {
      const terms = this.#terms[term]
      if (terms === undefined) continue
      if (touched && term === 0) {
        decideClaims(history, terms, chance, this.#claims)
        result = this.#price(history, terms, chance, null)
        copyDecisions(this.#claims, this.#earlier, history.nFailures)
      } else if (touched) {
        // other components keep their terms, so only rows of the first can change
        decideClaims(history, terms, chance, this.#claims, 0)
        if (!sameDecisions(this.#claims, this.#earlier, history.nFailures)) {
          const claimsCostEnergy = (terms.units[0]?.claimYears ?? 0) > 0
          result = this.#price(history, terms, chance, claimsCostEnergy ? null : result.lost)
          copyDecisions(this.#claims, this.#earlier, history.nFailures)
        }
      }
      each(term, result)
    }
  }

  /**
   * What each offer is worth in this history against the present terms of its component (V2).
   *
   * @param history - of one draw
   * @param chance - exits of the draw
   * @param each - called with the number of the offer and its worth, present value
   */
  offers(history: History, chance: SharedChance, each: (offer: number, worth: number) => void): void {
    this.#offers.forEach(({ place, present, offered }, i) => {
      if (!hasRows(history, place)) {
        each(i, 0)
        return
      }
      decideClaims(history, present, chance, this.#claims)
      const without = this.#price(history, present, chance, null)
      decideClaims(history, offered, chance, this.#claims)
      const withOffer = this.#price(history, offered, chance, null)
      each(i, without.paid - withOffer.paid - (withOffer.lost - without.lost))
    })
  }

  /** Prices the history with the claims decided; `lost` where it is known already. */
  #price(history: History, terms: OptionTerms, chance: SharedChance, lost: number | null): PaidAndLost {
    const account = this.#account
    account.clear()
    payRepairs(history, terms, chance, this.#claims, account, null)
    if (lost !== null) return { paid: account.repairs, lost }
    loseOutages(history, terms, this.#supply, this.#claims, account)
    return { paid: account.repairs, lost: account.outageEnergy + account.batteryOutage }
  }
}

function hasRows(history: History, place: number): boolean {
  for (let row = 0; row < history.nFailures; row++) if (history.place[row] === place) return true
  return false
}

/** The terms of an option with other cover for one of its components. */
function withCover(terms: OptionTerms, place: number, cover: Partial<CoverTerms>): OptionTerms {
  const units = terms.units.map((unit, i) => (i === place ? { ...unit, cover: { ...unit.cover, ...cover } } : unit))
  return { ...terms, units }
}

function sameDecisions(a: Claims, b: Claims, rows: number): boolean {
  for (let row = 0; row < rows; row++) {
    if (a.parts[row] !== b.parts[row] || a.labour[row] !== b.labour[row]) return false
  }
  return true
}

function copyDecisions(from: Claims, to: Claims, rows: number): void {
  to.reserve(rows)
  to.parts.set(from.parts.subarray(0, rows))
  to.labour.set(from.labour.subarray(0, rows))
}
