import { CLAIM, NUMBERS, PLANNED, REPAIRED, type Rows } from '../../history/rows.ts'
import { Claims, decideClaim, type Exits, STAYING } from '../claims.ts'
import {
  claimGranted,
  claimMade,
  letsVisitBeFree,
  originalEnd,
  ownersLabour,
  ownersParts,
  replacementEnd,
} from '../cover.ts'
import type { RowBills } from '../repairs.ts'
import type { CoverTerms, UnitTerms } from '../terms.ts'
import { ClaimLosses } from './claim-losses.ts'
import { linkSlots, payAll } from './owner-pays.ts'
import { SharedVisits } from './shared-visits.ts'
import { anyExit, claimsIfStaying, type PricedHistory, saveByStaying } from './staying-providers.ts'
import { TermSteps } from './term-steps.ts'

const NO_EXIT: readonly number[] = []

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
  #exits: Exits = STAYING
  /** By population; those of the component are not read. */
  #claims: readonly Claims[] = []
  /** Of the component under the cover being priced, where visits are shared. */
  readonly #own = new Claims()
  readonly #staying: Claims[] = []
  readonly #losses = new ClaimLosses()
  // by row: the next row of its slot or −1; what the owner pays under the present cover
  #next = new Int32Array(64)
  #paidNow = new Float64Array(64)
  /** The present lifetime, and its original rows. */
  #lane = -1
  #from = 0
  #to = 0
  /** Whether the energy lost is asked for and claims change it. */
  #losesByClaims = false
  #providerMissed = false

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
    const claims = priced.claims[this.#place]
    const bills = priced.bills[this.#place]
    this.#given = given
    this.#rows = rows
    this.#unit = unit
    if (rows === null || unit === null || claims === undefined || bills === undefined) return
    this.#own.reserve(rows.n)
    if (this.#next.length < rows.n) {
      this.#next = new Int32Array(2 * rows.n)
      this.#paidNow = new Float64Array(2 * rows.n)
    }
    linkSlots(rows, this.#next)
    payAll(rows, unit, claims, bills, this.#paidNow)
    this.#takeUp(history, priced.claims, true)
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
    this.#takeUp(STAYING, claimsIfStaying(given, this.#place, this.#staying), losses)
  }

  #takeUp(exits: Exits, claims: readonly Claims[], losses: boolean): void {
    this.#exits = exits
    this.#claims = claims
    this.#to = 0
    const given = this.#given
    const unit = this.#unit
    if (given === null || unit === null) return
    this.#losesByClaims = losses && unit.claimYears > 0 && unit.role !== 'nothing'
    if (this.#losesByClaims) this.#losses.begin(given, claims, this.#place)
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
    if (this.#providerMissed || history === undefined) return this.#providerMissed
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
    this.#providerMissed = false
    const given = this.#given
    const rows = this.#rows
    const unit = this.#unit
    const bills = given?.priced.bills[this.#place]
    const ageYears = given?.history.starts[this.#place]?.ageYears[this.#lane]
    if (rows === null || unit === null || bills === undefined || ageYears === undefined) return
    for (let row = this.#from; row < this.#to; row++) this.#walkSlot(rows, unit, bills, ageYears, row, covers)
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

  /** Prices one slot at each term at which a decision may change; decides as `decideClaim`. */
  #walkSlot(
    rows: Rows,
    unit: UnitTerms,
    bills: RowBills,
    ageYears: number,
    first: number,
    covers: readonly CoverTerms[],
  ): void {
    const { action, detectedAt, fittedAt, returnedAt, numbers, visit } = rows
    const { parts: partsBills, labour: labourBills, visit: visitBills } = bills
    const { needsVisit } = unit
    const partsExits = this.#exits.partsExits[this.#lane] ?? NO_EXIT
    const labourExits = this.#exits.labourExits[this.#lane] ?? NO_EXIT
    const next = this.#next
    const losses = this.#losesByClaims ? this.#losses : null
    let missed = false
    let before = 0
    for (let row = first; row >= 0; row = next[row] as number) {
      before += this.#paidNow[row] as number
      losses?.startAt(row)
    }
    for (let term = 0; term < covers.length; ) {
      const cover = covers[term] as CoverTerms
      const { years, labourYears } = cover
      const firstParts = originalEnd(years, ageYears)
      const firstLabour = originalEnd(labourYears, ageYears)
      let partsUntil = firstParts
      let labourUntil = firstLabour
      // one more year of term moves an end of cover by a year at most, so an uncovered row stays so for as many terms
      // as it is late; labour cover lengthens only while the parts term caps it, so it needs no check of its own
      let late = Infinity
      let paid = 0
      let lost = 0
      for (let row = first; row >= 0; ) {
        const at = detectedAt[row] as number // the row is there
        const fitted = fittedAt[row] as number
        const done = action[row] as number
        const onPaper = done !== PLANNED && at < partsUntil
        const claimed = onPaper && claimMade(at, partsUntil, partsExits, fitted)
        const granted = claimed && claimGranted(cover, numbers[NUMBERS * row + CLAIM] as number)
        const promised = done !== PLANNED && at < labourUntil
        const covered = promised && claimMade(at, labourUntil, labourExits, fitted)
        if (onPaper !== claimed || promised !== covered) missed = true
        paid +=
          ownersParts(cover, partsBills[row] as number, granted) +
          ownersLabour(cover, labourBills[row] as number, covered)
        if (needsVisit && (visit[row] as number) < 0 && !letsVisitBeFree(cover, covered)) {
          paid += visitBills[row] as number
        }
        if (losses !== null) lost += losses.turn(rows, row, this.#lane, claimed, term)
        const partsLate = at - partsUntil
        if (partsLate >= 0 && partsLate < late) late = partsLate
        const further = next[row] as number
        if (further >= 0 && done !== REPAIRED) {
          const back = returnedAt[row] as number
          partsUntil = replacementEnd(cover, years, firstParts, partsUntil, back, !granted)
          labourUntil = replacementEnd(cover, labourYears, firstLabour, labourUntil, back, !granted)
        }
        row = further
      }
      this.steps.add(term, paid - before, lost)
      before = paid
      // slightly less than the sum, whose last digit is rounded
      const holdsUntil = years + late - 1e-9
      if (holdsUntil >= covers.length) break
      term = Math.max(term, Math.floor(holdsUntil)) + 1
    }
    if (missed) this.#providerMissed = true
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
      for (let row = first; row >= 0; row = this.#next[row] as number) own.push(row)
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
