import { cellText } from '../../input/cell-text.ts'
import type { FirstSite } from '../fleet-results.ts'

/** Sites that are named first (F7a). */
const MOST_FIRST = 10

/** What ranks a site. */
export interface Rank {
  /** Expected bill of the next five years, money. */
  readonly bill: number
  /** Chance of a failure in these years. */
  readonly chance: number
  /** As a cell of sites.csv holds it. */
  readonly id: string
}

/**
 * Which of two sites comes first (F7a): the larger expected bill of the next five years, then the larger chance of a
 * failure, then the name. The order is ours: a reserve is planned for some years, and a roof whose cover pays is less
 * urgent.
 *
 * @param a - one
 * @param b - the other
 * @returns under 0 if `a` comes first
 */
export function byRank(a: Rank, b: Rank): number {
  return b.bill - a.bill || b.chance - a.chance || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
}

/**
 * The first of some sites.
 *
 * @param sites - in any order
 * @returns at most ten, in order
 */
export function firstOf(sites: readonly FirstSite[]): FirstSite[] {
  return sites
    .map(site => ({ site, rank: rankOf(site) }))
    .sort((a, b) => byRank(a.rank, b.rank))
    .slice(0, MOST_FIRST)
    .map(({ site }) => site)
}

function rankOf({ id, billNextFiveYears, chanceNextFiveYears }: FirstSite): Rank {
  return { bill: billNextFiveYears, chance: chanceNextFiveYears, id: cellText(id) }
}
