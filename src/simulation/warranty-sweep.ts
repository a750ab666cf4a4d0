import { OtherCover, type PricedLifetimes } from '../ledger/other-cover.ts'
import type { CoverTerms, EnergySupply, OptionTerms } from '../ledger/terms.ts'
import type { Option } from '../scenario/model.ts'
import type { FigureLayout } from './option-figures.ts'

/**
 * Prices every draw under all terms of its first component and under the offers (V1, V2, W6): the same lifetimes, other
 * cover. Adds to the sums of a parameter set.
 */
export class WarrantySweep {
  readonly #option: Option
  readonly #layout: FigureLayout
  /** By place of the component; the first is swept, others may have offers. */
  readonly #others: readonly OtherCover[]
  #covers: readonly CoverTerms[] = []
  #offers: readonly { readonly place: number; readonly present: CoverTerms; readonly offered: CoverTerms }[] = []
  /** By term: by how much the sums over the draws of a set rise there above the term before. */
  readonly #paid: Float64Array
  readonly #lost: Float64Array
  readonly #paidIfStays: Float64Array
  readonly #worth: Float64Array
  readonly #worthSquared: Float64Array

  /**
   * @param option - its offers
   * @param supply - energy of the option
   * @param layout - of the sums
   * @param horizonYears - terms run from 0 to it
   */
  constructor(option: Option, supply: EnergySupply, layout: FigureLayout, horizonYears: number) {
    this.#option = option
    this.#layout = layout
    const terms = horizonYears + 1
    this.#paid = new Float64Array(terms)
    this.#lost = new Float64Array(terms)
    this.#paidIfStays = new Float64Array(terms)
    this.#worth = new Float64Array(terms)
    this.#worthSquared = new Float64Array(terms)
    this.#others = option.populations.map(({ place }) => new OtherCover(place, supply, horizonYears))
  }

  /** Makes ready for a parameter set. */
  begin(terms: OptionTerms): void {
    const first = terms.units[0]?.cover
    if (first === undefined) return
    this.#covers = Array.from({ length: terms.horizonYears + 1 }, (_, years) => ({
      ...first,
      years,
      labourYears: Math.min(first.labourYears, years),
    }))
    this.#offers = this.#option.offers.flatMap(({ place, years, labourYears }) => {
      const cover = terms.units[place]?.cover
      const stated = this.#option.populations[place]?.warranty
      if (cover === undefined || stated === undefined) return []
      const present = { ...cover, years: stated.years, labourYears: stated.labourYears }
      return [{ place, present, offered: { ...cover, years, labourYears } }]
    })
  }

  /**
   * Adds some draws.
   *
   * @param priced - their lifetimes, priced under the present terms
   * @param yearly - present value of the yearly cost
   * @param sums - of the parameter set
   * @param squares - sums of squares, of what has a standard error
   */
  add(priced: PricedLifetimes, yearly: number, sums: Float64Array, squares: Float64Array): void {
    const { first, end } = priced.stretch
    for (let lifetime = first; lifetime < end; lifetime++) {
      this.#addTerms(priced, lifetime, yearly)
      for (let i = 0; i < this.#offers.length; i++) this.#addOffer(i, priced, lifetime, sums, squares)
    }
  }

  /** Adds what the draws of a set came to, term by term. */
  endSet(sums: Float64Array, squares: Float64Array): void {
    const layout = this.#layout
    drain(this.#paid, sums, layout.ofSweep(0, 'paid'))
    drain(this.#lost, sums, layout.ofSweep(0, 'energy'))
    drain(this.#paidIfStays, sums, layout.ofSweep(0, 'paidIfStays'))
    drain(this.#worth, sums, layout.ofSweep(0, 'worth'))
    drain(this.#worthSquared, squares, layout.ofSweep(0, 'worth'))
  }

  #addTerms(priced: PricedLifetimes, lifetime: number, yearly: number): void {
    const other = this.#others[0]
    if (other === undefined) return
    const changes = other.begin(priced, lifetime)
    const missed = other.providerMissed
    if (changes) this.#walk(other, yearly, true, !missed)
    else {
      bump(this.#paid, 0, other.paid + yearly)
      bump(this.#lost, 0, other.lost)
      if (!missed) bump(this.#paidIfStays, 0, other.paid + yearly)
    }
    if (!missed) return
    other.ifProvidersStay()
    if (changes) this.#walk(other, yearly, false, true)
    else bump(this.#paidIfStays, 0, other.paid + yearly)
  }

  /** From term to term at which anything changes: as providers are, as if they stayed, or both at once. */
  #walk(priced: OtherCover, yearly: number, asIs: boolean, ifStays: boolean): void {
    const covers = this.#covers
    let paid = -yearly
    let lost = 0
    let worth = 0
    let without = 0
    let term = 0
    for (let cover = covers[0]; cover !== undefined; cover = covers[term]) {
      if (term === 0) {
        priced.price(cover)
        without = priced.paid + priced.lost
      } else priced.prolong(cover)
      if (ifStays) bump(this.#paidIfStays, term, priced.paid - paid)
      if (asIs) {
        const worthThere = without - priced.paid - priced.lost
        bump(this.#paid, term, priced.paid - paid)
        bump(this.#lost, term, priced.lost - lost)
        bump(this.#worth, term, worthThere - worth)
        bump(this.#worthSquared, term, worthThere * worthThere - worth * worth)
        worth = worthThere
      }
      paid = priced.paid
      lost = priced.lost
      term = Math.max(term, Math.floor(priced.holdsUntil)) + 1
    }
  }

  #addOffer(i: number, priced: PricedLifetimes, lifetime: number, sums: Float64Array, squares: Float64Array): void {
    const offer = this.#offers[i]
    const other = offer === undefined ? undefined : this.#others[offer.place]
    if (offer === undefined || other?.begin(priced, lifetime) !== true) return
    const worthOf = (): number => {
      other.price(offer.present)
      const { paid, lost } = other
      other.price(offer.offered)
      return paid - other.paid - (other.lost - lost)
    }
    const worth = worthOf()
    const missed = other.providerMissed
    if (missed) other.ifProvidersStay()
    const ifStays = missed ? worthOf() : worth
    const at = this.#layout.ofOffer(i, false)
    bump(sums, at, worth)
    bump(squares, at, worth * worth)
    const staysAt = this.#layout.ofOffer(i, true)
    bump(sums, staysAt, ifStays)
    bump(squares, staysAt, ifStays * ifStays)
  }
}

function bump(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}

/** Adds running sums to a stretch of sums, and empties them. */
function drain(rises: Float64Array, sums: Float64Array, at: number): void {
  let sum = 0
  for (let term = 0; term < rises.length; term++) {
    sum += rises[term] ?? 0
    bump(sums, at + term, sum)
  }
  rises.fill(0)
}
