import type { History } from '../../history/history.ts'
import { Claims, decidePopulation, type Exits } from '../claims.ts'
import type { EnergyTables } from '../outages/energy-tables.ts'
import type { Priced } from '../price-lifetimes.ts'
import type { OptionTerms } from '../terms.ts'
import { VisitBills } from '../visit-bills.ts'
import { ownerPays } from './owner-pays.ts'

/** Lifetimes as they were priced under the present terms. */
export interface PricedHistory {
  readonly history: History
  readonly terms: OptionTerms
  readonly tables: EnergyTables
  readonly priced: Priced
}

/** Whether any provider leaves in a lifetime. */
export function anyExit({ partsExits, labourExits }: History, lane: number): boolean {
  return partsExits.any(lane) || labourExits.any(lane)
}

/**
 * What the present covers of all components but one decide if no provider ever left (V3).
 *
 * @param given - the lifetimes
 * @param exits - of providers that stay
 * @param without - place of the component that is left out; its entry is not filled
 * @param memory - by population; reused
 * @returns claims by population
 */
export function claimsIfStaying(
  { terms, history }: PricedHistory,
  exits: Exits,
  without: number,
  memory: Claims[],
): Claims[] {
  return terms.units.map(({ cover }, place) => {
    const own = memory[place] ?? new Claims()
    memory[place] = own
    if (place !== without) decidePopulation(history, place, cover, exits, own)
    return own
  })
}

/**
 * By how much the owner pays less for all components but one if no provider ever left (V3).
 *
 * @param given - the lifetimes, priced with providers as they are
 * @param stayingClaims - by population: decided as if providers stay
 * @param without - place of the component that is left out
 * @param out - by lane, added to: present value
 */
export function saveByStaying(
  { history, terms, priced }: PricedHistory,
  stayingClaims: readonly Claims[],
  without: number,
  out: Float64Array,
): void {
  terms.units.forEach((unit, place) => {
    const rows = history.rows[place]
    const asIs = priced.claims[place]
    const staying = stayingClaims[place]
    const bills = priced.bills[place]
    if (place === without || rows === undefined || asIs === undefined || staying === undefined) return
    if (bills === undefined) return
    for (let row = 0; row < rows.n; row++) {
      if (asIs.parts[row] === staying.parts[row] && asIs.labour[row] === staying.labour[row]) continue
      const lane = rows.lane[row] as number // the row is there, as is its lane
      const less =
        ownerPays(rows, row, unit, unit.cover, asIs, bills) - ownerPays(rows, row, unit, unit.cover, staying, bills)
      out[lane] = (out[lane] as number) + less
    }
  })
  if (terms.units.some(({ cover }) => cover.visitsCovered)) {
    saveVisits({ history, terms, priced }, stayingClaims, without, out)
  }
}

/**
 * Visits of several units that are free if the providers of other components stay; or no longer free, where a unit that
 * the owner bought would have brought a new term (W3).
 */
function saveVisits(
  { history, terms, priced }: Pick<PricedHistory, 'history' | 'terms' | 'priced'>,
  stayingClaims: readonly Claims[],
  without: number,
  out: Float64Array,
): void {
  const asIs = new VisitBills()
  const staying = new VisitBills()
  asIs.gather(history, terms, priced.claims)
  staying.gather(
    history,
    terms,
    stayingClaims.map((claims, place) => (place === without ? (priced.claims[place] ?? claims) : claims)),
  )
  for (let visit = 0; visit < history.nVisits; visit++) {
    const at = asIs.returnedAt[visit] ?? 0
    if (at > terms.horizonYears || asIs.free[visit] === staying.free[visit]) continue
    const lane = asIs.lane[visit] ?? 0
    const price = asIs.priceOf(visit, terms) * terms.labourGrowth.at(at) * terms.discount.at(at)
    out[lane] = (out[lane] ?? 0) + (staying.free[visit] === 1 ? price : -price)
  }
}
