import type { History } from '../../history/history.ts'
import type { Rows } from '../../history/rows.ts'
import type { Claims } from '../claims.ts'
import { letsVisitBeFree } from '../cover.ts'
import type { CoverTerms, OptionTerms } from '../terms.ts'
import { VisitBills } from '../visit-bills.ts'

/**
 * Call-outs of the visits that repair several units, while the cover of one component changes, and with it whether they
 * are free (W4). Has nothing to do where that cover does not pay for visits. The memory is reused.
 */
export class SharedVisits {
  readonly #bills = new VisitBills()
  /** Where the visits of each lane begin. */
  #first = new Int32Array(1)
  #price = new Float64Array(0)
  /** 1 where the cover of all units of other components pays for the visit. */
  #othersFree = new Uint8Array(0)
  #free = new Uint8Array(0)
  #any = false

  /**
   * Loads some lifetimes.
   *
   * @param history - the lifetimes
   * @param terms - of the option
   * @param claims - by population; those of the component are not read
   * @param place - of the component
   */
  begin(history: History, terms: OptionTerms, claims: readonly Claims[], place: number): void {
    const { nVisits } = history
    this.#any = nVisits > 0 && terms.units[place]?.cover.visitsCovered === true
    if (!this.#any) return
    this.#bills.gather(history, terms, claims)
    this.#price = new Float64Array(nVisits)
    this.#othersFree = new Uint8Array(nVisits).fill(1)
    this.#free = new Uint8Array(nVisits)
    this.#first = new Int32Array(history.n + 1)
    for (let visit = 0; visit < nVisits; visit++) {
      const at = this.#bills.returnedAt[visit] ?? 0
      const lane = this.#bills.lane[visit] ?? 0
      this.#first[lane + 1] = (this.#first[lane + 1] ?? 0) + 1
      if (at > terms.horizonYears) continue
      this.#price[visit] = this.#bills.priceOf(visit, terms) * terms.labourGrowth.at(at) * terms.discount.at(at)
    }
    for (let lane = 0; lane < history.n; lane++) {
      this.#first[lane + 1] = (this.#first[lane + 1] ?? 0) + (this.#first[lane] ?? 0)
    }
    terms.units.forEach(({ cover }, other) => {
      const rows = history.rows[other]
      const own = claims[other]
      if (other === place || rows === undefined || own === undefined) return
      for (let row = 0; row < rows.n; row++) {
        const visit = rows.visit[row] ?? -1
        if (visit >= 0 && !letsVisitBeFree(cover, own.labour[row] === 1)) this.#othersFree[visit] = 0
      }
    })
  }

  /** Whether a lifetime has visits whose bill may change. */
  has(lane: number): boolean {
    return this.#any && (this.#first[lane + 1] ?? 0) > (this.#first[lane] ?? 0)
  }

  /**
   * What the owner pays for the visits of a lifetime.
   *
   * @param lane - the lifetime
   * @param rows - of the component
   * @param own - rows of it in the lifetime
   * @param cover - of the component
   * @param claims - what it decided for them
   * @returns present value
   */
  paid(lane: number, rows: Rows, own: Iterable<number>, cover: CoverTerms, claims: Claims): number {
    const from = this.#first[lane] ?? 0
    const to = this.#first[lane + 1] ?? 0
    for (let visit = from; visit < to; visit++) this.#free[visit] = this.#othersFree[visit] ?? 0
    for (const row of own) {
      const visit = rows.visit[row] ?? -1
      if (visit >= 0 && !letsVisitBeFree(cover, claims.labour[row] === 1)) this.#free[visit] = 0
    }
    let paid = 0
    for (let visit = from; visit < to; visit++) if (this.#free[visit] === 0) paid += this.#price[visit] ?? 0
    return paid
  }
}
