import type { Rows } from '../../history/rows.ts'
import { Claims, decideClaim, type Exits, stayingProviders } from '../claims.ts'
import type { CoverTerms, UnitTerms } from '../terms.ts'
import { ClaimLosses } from './claim-losses.ts'
import { RowSavings } from './row-savings.ts'
import { SharedVisits } from './shared-visits.ts'
import { SlotWalk } from './slot-walk.ts'
import { anyExit, claimsIfStaying, type PricedHistory, saveByStaying } from './staying-providers.ts'
import { TermSteps } from './term-steps.ts'

/**
 * Prices lifetimes again under other cover of one component (V1, W6). Bills are known, so a row costs one decision at
 * each term at which its decision may change. A claim makes its outage longer (`claim-losses.ts`).
 */
export class OtherCover {
  /** Steps of the present lifetime from term to term; the first one is from the present terms to term 0. */
  readonly steps: TermSteps
  readonly #place: number
  readonly #visits = new SharedVisits()
  #given: PricedHistory | null = null
  #rows: Rows | null = null
  #unit: UnitTerms | null = null
  #exits: Exits = stayingProviders(0)
  /** By population; those of the component are not read. */
  #claims: readonly Claims[] = []
  /** Of the component under the cover being priced, where visits are shared. */
  readonly #own = new Claims()
  readonly #staying: Claims[] = []
  readonly #savings = new RowSavings()
  readonly #slots = new SlotWalk()
  readonly #losses = new ClaimLosses()
  /** The present lifetime, and its original rows. */
  #lane = -1
  #from = 0
  #to = 0
  /** Whether the energy lost is asked for and claims change it. */
  #losesByClaims = false

  /**
   * @param place - of the component
   * @param horizonYears - years
   */
  constructor(place: number, horizonYears: number) {
    this.#place = place
    this.steps = new TermSteps(horizonYears + 1)
  }

  /**
   * Loads some lifetimes, with providers as they are.
   *
   * @param given - priced under the present terms
   */
  begin(given: PricedHistory): void {
    const { history, terms, priced } = given
    const rows = history.rows[this.#place] ?? null
    const unit = terms.units[this.#place] ?? null
    this.#given = given
    this.#rows = rows
    this.#unit = unit
    if (rows === null || unit === null) return
    this.#own.reserve(rows.n)
    this.#savings.find(given, this.#place)
    this.#takeUp(history, priced.claims, true, false)
  }

  /**
   * Loads the lifetimes again as if no provider ever left (V3); `savedByStaying` is what that saves for other
   * components.
   *
   * @param losses - whether the energy lost is wanted too
   */
  stay(losses: boolean): void {
    const given = this.#given
    if (given === null) return
    const exits = stayingProviders(given.history.n)
    this.#takeUp(exits, claimsIfStaying(given, exits, this.#place, this.#staying), losses, true)
  }

  #takeUp(exits: Exits, claims: readonly Claims[], losses: boolean, staying: boolean): void {
    this.#exits = exits
    this.#claims = claims
    this.#to = 0
    const given = this.#given
    const unit = this.#unit
    const rows = this.#rows
    if (given === null || unit === null || rows === null) return
    const losesByClaims = losses && unit.claimYears > 0 && unit.role !== 'nothing'
    if (losesByClaims) this.#losses.begin(given, claims, this.#place)
    this.#slots.begin(rows, this.#savings, losesByClaims ? this.#losses : null, staying)
    this.#losesByClaims = losesByClaims
    this.#visits.begin(given.history, given.terms, claims, this.#place)
  }

  /**
   * Selects a lifetime; call it in the order of lifetimes.
   *
   * @param lane - the lifetime
   * @returns whether the component has rows in it; without rows its cover changes nothing
   */
  goTo(lane: number): boolean {
    const rows = this.#rows
    if (rows === null) return false
    this.#lane = lane
    this.#from = this.#to
    // original rows come first, lifetime after lifetime
    while (this.#to < rows.n && rows.before[this.#to] === -1 && rows.lane[this.#to] === lane) this.#to++
    return this.#to > this.#from
  }

  /** Whether an exit of a provider changed a decision of the walk, or may change who pays for a shared visit (W4, W5). */
  get providerMissed(): boolean {
    const history = this.#given?.history
    if (this.#slots.providerMissed || history === undefined) return this.#slots.providerMissed
    return this.#visits.has(this.#lane) && anyExit(history, this.#lane)
  }

  /**
   * Prices the lifetime under every term in order: fills `steps`.
   *
   * @param covers - of the component, one a term: years 0, 1, …; labour years equal to them or constant; otherwise as
   * the present one
   */
  walk(covers: readonly CoverTerms[]): void {
    this.steps.clear()
    this.#slots.providerMissed = false
    const given = this.#given
    const ageYears = given?.history.starts[this.#place]?.ageYears[this.#lane]
    if (ageYears === undefined) return
    for (let row = this.#from; row < this.#to; row++) this.#slots.walk(row, this.#lane, ageYears, covers, this.steps)
    if (this.#losesByClaims) this.#losses.enterRuns(this.#lane, this.steps)
    if (this.#visits.has(this.#lane)) this.#walkVisits(covers)
  }

  /**
   * Prices the lifetime under two covers (W6).
   *
   * @param present - of the component
   * @param other - in its place
   * @returns by how much the owner pays and loses less under the other
   */
  worth(present: CoverTerms, other: CoverTerms): number {
    this.walk([present])
    const before = this.steps.paid[0] ?? 0
    const lostBefore = this.steps.lost[0] ?? 0
    this.walk([other])
    return before + lostBefore - (this.steps.paid[0] ?? 0) - (this.steps.lost[0] ?? 0)
  }

  /** Prices the visits that units share, at every term with a change. */
  #walkVisits(covers: readonly CoverTerms[]): void {
    const rows = this.#rows
    const claims = this.#given?.priced.claims[this.#place]
    if (rows === null || this.#unit === null || claims === undefined) return
    const own = this.#ownRows()
    let paid = this.#visits.paid(this.#lane, rows, own, this.#unit.cover, claims)
    for (let term = this.steps.next(0); term >= 0; term = this.steps.next(term + 1)) {
      const cover = covers[term] as CoverTerms
      this.#decide(cover, own)
      const paidThere = this.#visits.paid(this.#lane, rows, own, cover, this.#own)
      this.steps.add(term, paidThere - paid, 0)
      paid = paidThere
    }
  }

  /** Decides all rows of the component in the lifetime. */
  #decide(cover: CoverTerms, own: readonly number[]): void {
    const rows = this.#rows
    const ageYears = this.#given?.history.starts[this.#place]?.ageYears[this.#lane]
    if (rows === null || ageYears === undefined) return
    for (const row of own) {
      decideClaim(rows, row, rows.before[row] as number, ageYears, cover, this.#exits, this.#own) // the row is there
    }
  }

  /** Rows of the component in the lifetime, slot by slot. */
  #ownRows(): number[] {
    const own: number[] = []
    for (let first = this.#from; first < this.#to; first++) {
      for (let row = first; row >= 0; row = this.#savings.next[row] as number) own.push(row)
    }
    return own
  }

  /**
   * By how much the owner pays less for all other components if providers stay.
   *
   * @param out - by lane, filled
   */
  savedByStaying(out: Float64Array): void {
    const given = this.#given
    out.fill(0)
    if (given === null) return
    saveByStaying(given, this.#claims, this.#place, out)
  }
}
