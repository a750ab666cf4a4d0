import { OtherCover, type PricedDraw } from '../ledger/other-cover.ts'
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
  /** By term: what the owner pays in the draw in hand. */
  readonly #paid: Float64Array
  /** Sums over draws that no term changes: added to every term when the set ends. */
  #flatPaid = 0
  #flatLost = 0
  #flatIfStays = 0

  /**
   * @param option - its offers
   * @param supply - energy of the option
   * @param layout - of the sums
   * @param horizonYears - terms run from 0 to it
   */
  constructor(option: Option, supply: EnergySupply, layout: FigureLayout, horizonYears: number) {
    this.#option = option
    this.#layout = layout
    this.#paid = new Float64Array(horizonYears + 1)
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
   * Adds one draw.
   *
   * @param draw - priced under the present terms
   * @param yearly - present value of the yearly cost
   * @param sums - of the parameter set
   * @param squares - sums of squares, of what has a standard error
   */
  add(draw: PricedDraw, yearly: number, sums: Float64Array, squares: Float64Array): void {
    this.#addTerms(draw, yearly, sums, squares)
    for (let i = 0; i < this.#offers.length; i++) this.#addOffer(i, draw, sums, squares)
  }

  /** Adds what was the same under every term. */
  endSet(sums: Float64Array): void {
    for (let term = 0; term < this.#covers.length; term++) {
      bump(sums, this.#layout.ofSweep(term, 'paid'), this.#flatPaid)
      bump(sums, this.#layout.ofSweep(term, 'energy'), this.#flatLost)
      bump(sums, this.#layout.ofSweep(term, 'paidIfStays'), this.#flatIfStays)
    }
    this.#flatPaid = 0
    this.#flatLost = 0
    this.#flatIfStays = 0
  }

  #addTerms(draw: PricedDraw, yearly: number, sums: Float64Array, squares: Float64Array): void {
    const priced = this.#others[0]
    if (priced === undefined) return
    if (!priced.begin(draw)) {
      this.#flatPaid += priced.paid + yearly
      this.#flatLost += priced.lost
      priced.ifProvidersStay()
      this.#flatIfStays += priced.paid + yearly
      return
    }
    const covers = this.#covers
    const paidAt = this.#layout.ofSweep(0, 'paid')
    const lostAt = this.#layout.ofSweep(0, 'energy')
    const staysAt = this.#layout.ofSweep(0, 'paidIfStays')
    const worthAt = this.#layout.ofSweep(0, 'worth')
    const paid = this.#paid
    let without = 0
    for (let term = 0; term < covers.length; term++) {
      const cover = covers[term]
      if (cover === undefined) continue
      priced.price(cover)
      if (term === 0) without = priced.paid + priced.lost
      const worth = without - priced.paid - priced.lost
      paid[term] = priced.paid
      bump(sums, paidAt + term, priced.paid + yearly)
      bump(sums, lostAt + term, priced.lost)
      bump(sums, worthAt + term, worth)
      bump(squares, worthAt + term, worth * worth)
    }
    const moved = priced.ifProvidersStay()
    for (let term = 0; term < covers.length; term++) {
      const cover = covers[term]
      if (moved && cover !== undefined) priced.price(cover)
      bump(sums, staysAt + term, (moved ? priced.paid : (paid[term] ?? 0)) + yearly)
    }
  }

  #addOffer(i: number, draw: PricedDraw, sums: Float64Array, squares: Float64Array): void {
    const offer = this.#offers[i]
    const priced = offer === undefined ? undefined : this.#others[offer.place]
    if (offer === undefined || priced?.begin(draw) !== true) return
    const worthOf = (): number => {
      priced.price(offer.present)
      const { paid, lost } = priced
      priced.price(offer.offered)
      return paid - priced.paid - (priced.lost - lost)
    }
    const worth = worthOf()
    const ifStays = priced.ifProvidersStay() ? worthOf() : worth
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
