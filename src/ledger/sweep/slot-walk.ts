import { REPAIRED, type Rows } from '../../history/rows.ts'
import { originalEnd, replacementEnd } from '../cover.ts'
import type { CoverTerms } from '../terms.ts'
import type { ClaimLosses } from './claim-losses.ts'
import { LABOUR_PROVIDER, PARTS_PROVIDER, type RowSavings, WOULD_BE_GRANTED } from './row-savings.ts'
import type { TermSteps } from './term-steps.ts'

/** Slots of one component under other cover, from term to term (V1). */
export class SlotWalk {
  /** Whether an exit of a provider changed a decision since this was set (W5). */
  providerMissed = false
  #rows: Rows | null = null
  #savings: RowSavings | null = null
  #losses: ClaimLosses | null = null
  /** Facts that hold of every row, whatever happened: providers that stay. */
  #always = 0

  /**
   * Loads some lifetimes.
   *
   * @param rows - of the component
   * @param savings - of its rows
   * @param losses - of its claims; null: not asked for
   * @param staying - as if no provider ever left (V3)
   */
  begin(rows: Rows, savings: RowSavings, losses: ClaimLosses | null, staying: boolean): void {
    this.#rows = rows
    this.#savings = savings
    this.#losses = losses
    this.#always = staying ? PARTS_PROVIDER | LABOUR_PROVIDER : 0
  }

  /**
   * Prices one slot at each term at which a decision may change; decides as `decideClaim`.
   *
   * @param first - original row of the slot
   * @param lane - its lifetime
   * @param ageYears - of the original unit at the start
   * @param covers - one a term, as for `OtherCover.walk`
   * @param steps - of the lifetime, added to
   */
  walk(first: number, lane: number, ageYears: number, covers: readonly CoverTerms[], steps: TermSteps): void {
    const rows = this.#rows
    const savings = this.#savings
    if (rows === null || savings === null) return
    const losses = this.#losses
    const always = this.#always
    const { next, detectedAt, facts, byParts, byLabour, now } = savings
    let before = 0
    for (let row = first; row >= 0; row = next[row] as number) {
      before += now[row] as number
      losses?.startAt(row)
    }
    let missed = false
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
      let saved = 0
      let lost = 0
      for (let row = first; row >= 0; ) {
        const at = detectedAt[row] as number // the row is there
        const known = (facts[row] as number) | always
        let claimed = false
        let granted = false
        if (at < partsUntil) {
          claimed = (known & PARTS_PROVIDER) !== 0
          granted = claimed && (known & WOULD_BE_GRANTED) !== 0
          if (granted) saved += byParts[row] as number
          if (!claimed) missed = true
        } else if (at - partsUntil < late) late = at - partsUntil
        if (at < labourUntil) {
          if ((known & LABOUR_PROVIDER) !== 0) saved += byLabour[row] as number
          else missed = true
        }
        if (losses !== null) lost += losses.turn(rows, row, lane, claimed, term)
        const further = next[row] as number
        if (further >= 0 && rows.action[row] !== REPAIRED) {
          const back = rows.returnedAt[row] as number
          partsUntil = replacementEnd(cover, years, firstParts, partsUntil, back, !granted)
          labourUntil = replacementEnd(cover, labourYears, firstLabour, labourUntil, back, !granted)
        }
        row = further
      }
      steps.add(term, before - saved, lost)
      before = saved
      // slightly less than the sum, whose last digit is rounded
      term = Math.max(term, Math.floor(years + late - 1e-9)) + 1
    }
    if (missed) this.providerMissed = true
  }
}
