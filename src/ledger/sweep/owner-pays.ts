/**
 * What the owner pays of each row under some cover, from known bills (V1, W6).
 */
import type { Rows } from '../../history/rows.ts'
import { type Claims, GRANTED } from '../claims.ts'
import { letsVisitBeFree, ownersLabour, ownersParts } from '../cover.ts'
import type { RowBills } from '../repairs.ts'
import type { CoverTerms, UnitTerms } from '../terms.ts'

/**
 * What the owner pays of a failure: parts, labour, and call-out and access of a visit of its own (W4).
 *
 * @param rows - of the population
 * @param row - which row
 * @param unit - the population
 * @param cover - its terms
 * @param claims - decided under that cover
 * @param bills - of its rows
 * @returns present value
 */
export function ownerPays(
  rows: Rows,
  row: number,
  unit: UnitTerms,
  cover: CoverTerms,
  claims: Claims,
  bills: RowBills,
): number {
  const covered = claims.labour[row] === 1
  const paid =
    ownersParts(cover, bills.parts[row] as number, claims.parts[row] === GRANTED) + // the row is there
    ownersLabour(cover, bills.labour[row] as number, covered)
  if (!unit.needsVisit || (rows.visit[row] as number) >= 0) return paid
  return letsVisitBeFree(cover, covered) ? paid : paid + (bills.visit[row] as number)
}
