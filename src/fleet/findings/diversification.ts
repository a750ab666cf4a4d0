import { sumOf } from '../../numerics/sum.ts'
import { ReserveFactors } from '../../simulation/sums/reserve-need.ts'
import type { Diversification, ValueWithError } from '../fleet-results.ts'
import type { PartHead } from '../part-file.ts'
import type { Column, FleetSums } from '../play/fleet-sums.ts'
import { meanQuantileFigure } from './figures.ts'

/**
 * What pooling saves (F7): the sum of what sites would need alone, compared with what they need together, and with what
 * they would need together if nothing struck two of them at once. For one site, groups of ten, one of a hundred, and
 * all; money per site.
 *
 * @param head - of the fleet
 * @param sums - of the fleet
 */
export function diversificationOf(head: PartHead, sums: FleetSums): Diversification[] {
  const nSites = sums.column('sites')
  const sites = nSites[0] ?? 0
  if (sites === 0) return []
  const alone = (column: Column, scope: number): number =>
    (sums.column(column)[scope] ?? 0) / 100 / (nSites[scope] ?? 1)
  const contribution = alone('singleContribution', 0)
  const cash90 = alone('singleCash90', 0)
  const rows: Diversification[] = [
    { sites: 1, groups: sites, contribution: same(contribution), cash90: same(cash90), standardError: null },
  ]
  const { groupSizes } = head.facts
  for (const size of [...new Set(groupSizes)]) {
    // a group that lost a site to a file that vanished is a little smaller
    const groups = groupSizes.flatMap((own, group) => (own === size && (nSites[1 + group] ?? 0) > 0 ? [group] : []))
    if (size >= sites || groups.length === 0) continue
    const mean = (column: Column): number =>
      groups.reduce((sum, group) => sum + alone(column, 1 + group), 0) / groups.length
    const pools = (column: Column): Pool[] =>
      groups.map(group => poolOf(head, sums.column(column), group, nSites[1 + group] ?? 0))
    const single = { contribution: mean('singleContribution'), cash90: mean('singleCash90') }
    rows.push(rowOf(head, size, single, pools('sampleCash'), pools('sampleIndependent')))
  }
  if (sites > 1) {
    const all = poolOf(head, sums.column('cash'), 0, sites)
    const apart = poolOf(head, sums.column('independentCash'), 0, sites)
    rows.push(rowOf(head, sites, { contribution, cash90 }, [all], [apart]))
  }
  return rows
}

/** Some sites together, by draw: what they need, what they cost; money per site. */
interface Pool {
  readonly needs: Float64Array
  readonly totals: Float64Array
}

/** The opening balance is shared out evenly. */
function poolOf(head: PartHead, column: Float64Array, group: number, sites: number): Pool {
  const { draws, years } = head.shape
  const { reserve, sites: allSites } = head.facts
  const opening = reserve.opening / Math.max(allSites, 1)
  const factors = new ReserveFactors({ ...reserve, opening }, years)
  const start = group * draws * years
  const rows = Array.from({ length: draws }, (_, draw) =>
    column.slice(start + draw * years, start + (draw + 1) * years).map(cents => cents / 100 / sites),
  )
  return {
    needs: Float64Array.from(rows, row => factors.need(row)),
    totals: Float64Array.from(rows, row => sumOf(row)),
  }
}

function rowOf(
  head: PartHead,
  sites: number,
  alone: { readonly contribution: number; readonly cash90: number },
  pools: readonly Pool[],
  apart: readonly Pool[],
): Diversification {
  const { confidence } = head.facts.reserve
  const needs = (of: readonly Pool[]): ValueWithError =>
    meanQuantileFigure(
      of.map(pool => pool.needs),
      confidence,
    )
  const totals = (of: readonly Pool[]): ValueWithError =>
    meanQuantileFigure(
      of.map(pool => pool.totals),
      0.9,
    )
  const contribution = { pooled: needs(pools), withoutCommonCause: needs(apart) }
  const cash90 = { pooled: totals(pools), withoutCommonCause: totals(apart) }
  return {
    sites,
    groups: pools.length,
    contribution: { alone: alone.contribution, ...side(contribution, 'value') },
    cash90: { alone: alone.cash90, ...side(cash90, 'value') },
    standardError: { contribution: side(contribution, 'standardError'), cash90: side(cash90, 'standardError') },
  }
}

function side(
  figures: { readonly pooled: ValueWithError; readonly withoutCommonCause: ValueWithError },
  which: keyof ValueWithError,
): { readonly pooled: number; readonly withoutCommonCause: number } {
  return { pooled: figures.pooled[which], withoutCommonCause: figures.withoutCommonCause[which] }
}

function same(value: number): Diversification['contribution'] {
  return { alone: value, pooled: value, withoutCommonCause: value }
}
