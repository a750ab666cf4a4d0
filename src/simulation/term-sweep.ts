import { OtherCover } from '../ledger/sweep/other-cover.ts'
import { anyExit, type PricedHistory } from '../ledger/sweep/staying-providers.ts'
import { type CoverTerms, coverTerms, type OptionTerms } from '../ledger/terms.ts'
import { FIRST_ROOM } from '../numerics/first-room.ts'
import type { Option } from '../scenario/model.ts'
import type { SumLayout } from './sums/sum-layout.ts'

/**
 * Prices every draw under all terms of its first component and under the offers (V1, V2, W6): the same lifetimes, other
 * cover. Adds to the sums of a parameter set.
 */
export class TermSweep {
  readonly #option: Option
  readonly #layout: SumLayout
  /** By place of the component; the first is swept, others may have offers. */
  readonly #others: readonly OtherCover[]
  #covers: readonly CoverTerms[] = []
  #offers: readonly { readonly place: number; readonly present: CoverTerms; readonly offered: CoverTerms }[] = []
  // by term: increase over the term before of the sums over the draws of a set
  readonly #paid: Float64Array
  readonly #lost: Float64Array
  readonly #paidIfStays: Float64Array
  readonly #worth: Float64Array
  readonly #worthSquared: Float64Array
  // by lane: what other components save if providers stay; 1 where an exit may change what the swept one costs
  #saved = new Float64Array(FIRST_ROOM)
  #missed = new Uint8Array(FIRST_ROOM)

  /**
   * @param option - its offers
   * @param layout - of the sums
   * @param horizonYears - terms run from 0 to it
   */
  constructor(option: Option, layout: SumLayout, horizonYears: number) {
    this.#option = option
    this.#layout = layout
    const terms = horizonYears + 1
    this.#paid = new Float64Array(terms)
    this.#lost = new Float64Array(terms)
    this.#paidIfStays = new Float64Array(terms)
    this.#worth = new Float64Array(terms)
    this.#worthSquared = new Float64Array(terms)
    this.#others = option.populations.map(({ place }) => new OtherCover(place, horizonYears))
  }

  /** Prepares for a parameter set. */
  begin(terms: OptionTerms): void {
    const first = terms.units[0]?.cover
    if (first === undefined) return
    this.#covers = Array.from({ length: terms.horizonYears + 1 }, (_, years) =>
      coverTerms({ ...first, years, labourYears: Math.min(first.labourYears, years) }),
    )
    this.#offers = this.#option.offers.flatMap(({ place, years, labourYears }) => {
      const cover = terms.units[place]?.cover
      const stated = this.#option.populations[place]?.warranty
      if (cover === undefined || stated === undefined) return []
      const present = coverTerms({ ...cover, years: stated.years, labourYears: stated.labourYears })
      return [{ place, present, offered: coverTerms({ ...cover, years, labourYears }) }]
    })
  }

  /**
   * Adds some draws.
   *
   * @param given - their lifetimes, priced under the present terms
   * @param repairs - what the owner pays for repairs, by lane, present value
   * @param outages - energy and battery value lost, by lane, present value
   * @param yearly - present value of the yearly cost
   * @param sums - of the parameter set
   * @param squares - sums of squares, of what has a standard error
   */
  add(
    given: PricedHistory,
    repairs: Float64Array,
    outages: Float64Array,
    yearly: number,
    sums: Float64Array,
    squares: Float64Array,
  ): void {
    const { n } = given.history
    if (this.#saved.length < n) {
      this.#saved = new Float64Array(2 * n)
      this.#missed = new Uint8Array(2 * n)
    }
    let paid = n * yearly
    let lost = 0
    for (let lane = 0; lane < n; lane++) {
      paid += repairs[lane] as number // every lane has both
      lost += outages[lane] as number
    }
    bump(this.#paid, 0, paid)
    bump(this.#paidIfStays, 0, paid)
    bump(this.#lost, 0, lost)
    this.#addTerms(given)
    this.#offers.forEach((_, i) => {
      this.#addOffer(i, given, sums, squares)
    })
  }

  /** Adds the sums of a set, term by term. */
  endSet(sums: Float64Array, squares: Float64Array): void {
    const layout = this.#layout
    drain(this.#paid, sums, layout.ofSweep(0, 'paid'))
    drain(this.#lost, sums, layout.ofSweep(0, 'energy'))
    drain(this.#paidIfStays, sums, layout.ofSweep(0, 'paidIfStays'))
    drain(this.#worth, sums, layout.ofSweep(0, 'worth'))
    drain(this.#worthSquared, squares, layout.ofSweep(0, 'worth'))
  }

  #addTerms(given: PricedHistory): void {
    const other = this.#others[0]
    if (other === undefined) return
    const { n } = given.history
    const exits = leftAny(given)
    other.begin(given)
    for (let lane = 0; lane < n; lane++) {
      this.#missed[lane] = 0
      if (!other.goTo(lane)) continue
      other.walk(this.#covers)
      const missed = exits && other.providerMissed
      if (missed) this.#missed[lane] = 1
      this.#enterSteps(other, !missed)
    }
    if (exits) this.#addStaying(other, n)
  }

  /** Enters the steps of one lifetime into the sums, with providers as they are. */
  #enterSteps({ steps }: OtherCover, sameIfStays: boolean): void {
    let worth = 0
    for (let term = steps.next(0); term >= 0; term = steps.next(term + 1)) {
      const paid = steps.paid[term] as number // a step is there
      const lost = steps.lost[term] as number
      bump(this.#paid, term, paid)
      bump(this.#lost, term, lost)
      if (sameIfStays) bump(this.#paidIfStays, term, paid)
      if (term === 0) continue
      const worthThere = worth - paid - lost
      bump(this.#worth, term, worthThere - worth)
      bump(this.#worthSquared, term, worthThere * worthThere - worth * worth)
      worth = worthThere
    }
  }

  /** V3: lifetimes in which a provider was missed, as if it had stayed. */
  #addStaying(other: OtherCover, n: number): void {
    other.stay(false)
    other.savedByStaying(this.#saved)
    let saved = 0
    for (let lane = 0; lane < n; lane++) {
      saved += this.#saved[lane] as number // every lane has its entries
      if (!other.goTo(lane) || this.#missed[lane] === 0) continue
      other.walk(this.#covers)
      const { steps } = other
      for (let term = steps.next(0); term >= 0; term = steps.next(term + 1)) {
        bump(this.#paidIfStays, term, steps.paid[term] as number)
      }
    }
    bump(this.#paidIfStays, 0, -saved)
  }

  #addOffer(i: number, given: PricedHistory, sums: Float64Array, squares: Float64Array): void {
    const offer = this.#offers[i]
    const other = offer === undefined ? undefined : this.#others[offer.place]
    if (offer === undefined || other === undefined) return
    const at = this.#layout.ofOffer(i, false)
    const staysAt = this.#layout.ofOffer(i, true)
    const enter = (place: number): void => {
      for (let lane = 0; lane < given.history.n; lane++) {
        if (!other.goTo(lane)) continue
        const worth = other.worth(offer.present, offer.offered)
        bump(sums, place, worth)
        bump(squares, place, worth * worth)
      }
    }
    other.begin(given)
    enter(at)
    if (!leftAny(given)) {
      other.begin(given)
      enter(staysAt)
      return
    }
    other.stay(true)
    enter(staysAt)
  }
}

/** Whether any provider leaves in any of the lifetimes. */
function leftAny({ history }: PricedHistory): boolean {
  for (let lane = 0; lane < history.n; lane++) {
    if (anyExit(history, lane)) return true
  }
  return false
}

function bump(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}

/** Adds the running sums of some increases to consecutive sums, and clears the increases. */
function drain(rises: Float64Array, sums: Float64Array, at: number): void {
  let sum = 0
  for (let term = 0; term < rises.length; term++) {
    sum += rises[term] ?? 0
    bump(sums, at + term, sum)
  }
  rises.fill(0)
}
