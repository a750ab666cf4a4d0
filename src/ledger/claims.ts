import type { SharedChance } from '../history/chance.ts'
import { type History, PLANNED, REPAIRED } from '../history/history.ts'
import type { Stretch } from '../history/lifetimes.ts'
import { claimGranted, claimMade, originalLabourEnd, originalPartsEnd, replacementEnd } from './cover.ts'
import type { CoverTerms, OptionTerms, UnitTerms } from './terms.ts'

/** No parts cover at detection, or a planned replacement. */
export const NOT_CLAIMED = 0
/** Parts were claimed and the claim was refused. */
export const REFUSED = 1
/** Parts were claimed and the claim was granted. */
export const GRANTED = 2

/** What the cover said to each row of a history; memory that serves again and again. */
export class Claims {
  /** NOT_CLAIMED, REFUSED or GRANTED. */
  parts = new Uint8Array(1024)
  /** 1 while labour cover runs and its provider exists. */
  labour = new Uint8Array(1024)
  /** 1 while the parts term runs on paper: whether or not anybody still stands behind it (V3). */
  paper = new Uint8Array(1024)
  /** End of both clocks of the unit after the row, years. */
  partsEnd = new Float64Array(1024)
  labourEnd = new Float64Array(1024)

  /** Makes room for a number of rows; what was there is lost. */
  reserve(rows: number): void {
    if (rows <= this.parts.length) return
    const length = 2 * rows
    this.parts = new Uint8Array(length)
    this.labour = new Uint8Array(length)
    this.paper = new Uint8Array(length)
    this.partsEnd = new Float64Array(length)
    this.labourEnd = new Float64Array(length)
  }
}

/**
 * Decides every claim of some lifetimes (W1–W5): at detection, by the clocks of the unit and the providers that still
 * exist. The first stage of the ledger.
 *
 * @param stretch - the lifetimes
 * @param terms - of the option
 * @param claims - filled, one entry a row
 */
export function decideClaims({ lifetimes, first, end }: Stretch, terms: OptionTerms, claims: Claims): void {
  const { history, firstRow } = lifetimes
  claims.reserve(history.nFailures)
  for (let lifetime = first; lifetime < end; lifetime++) {
    const to = firstRow[lifetime + 1] ?? 0
    let row = firstRow[lifetime] ?? 0
    if (row === to) continue
    const chance = lifetimes.chanceOf(lifetime)
    for (; row < to; row++) {
      const unit = terms.units[history.place[row] ?? 0]
      if (unit !== undefined) decideClaim(history, row, unit, unit.cover, chance, claims)
    }
  }
}

/**
 * Decides the claim of one row (W1–W5); rows of its slot before it must have been decided.
 *
 * @param history - the rows
 * @param row - which row
 * @param unit - its population
 * @param cover - read in place of the unit's own
 * @param chance - exits of the lifetime
 * @param claims - its entry is filled; room must be there
 */
export function decideClaim(
  history: History,
  row: number,
  unit: UnitTerms,
  cover: CoverTerms,
  chance: Pick<SharedChance, 'partsExits' | 'labourExits'>,
  claims: Claims,
): void {
  const before = history.before[row] ?? -1
  const firstParts = originalPartsEnd(unit, cover)
  const firstLabour = originalLabourEnd(unit, cover)
  const partsEnd = before < 0 ? firstParts : (claims.partsEnd[before] ?? 0)
  const labourEnd = before < 0 ? firstLabour : (claims.labourEnd[before] ?? 0)
  const planned = history.action[row] === PLANNED
  const at = history.detectedAt[row] ?? 0
  const fittedAt = history.fittedAt[row] ?? 0
  const paper = !planned && at < partsEnd
  const claimed = !planned && claimMade(at, partsEnd, chance.partsExits, fittedAt)
  const granted = claimed && claimGranted(cover, history.claim[row] ?? 1)
  claims.paper[row] = paper ? 1 : 0
  claims.parts[row] = granted ? GRANTED : claimed ? REFUSED : NOT_CLAIMED
  claims.labour[row] = !planned && claimMade(at, labourEnd, chance.labourExits, fittedAt) ? 1 : 0
  if (history.action[row] === REPAIRED) {
    claims.partsEnd[row] = partsEnd
    claims.labourEnd[row] = labourEnd
    return
  }
  const returnedAt = history.returnedAt[row] ?? 0
  claims.partsEnd[row] = replacementEnd(cover, cover.years, firstParts, partsEnd, returnedAt, !granted)
  claims.labourEnd[row] = replacementEnd(cover, cover.labourYears, firstLabour, labourEnd, returnedAt, !granted)
}
