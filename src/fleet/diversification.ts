import { quantiles } from '../numerics/quantile.ts'
import { ReserveFactors } from '../simulation/reserve-need.ts'
import type { Diversification } from './fleet-results.ts'
import type { FleetSums } from './fleet-sums.ts'
import type { PartHead } from './part-file.ts'

/**
 * What pooling saves (F7): the sum of what sites would need alone, against what they need together, and against what
 * they would need together if nothing struck two of them at once. For one site, groups of ten, one of a hundred, and
 * all; money per site.
 *
 * @param head - of the fleet
 * @param sums - of the fleet
 */
export function diversificationOf(head: PartHead, sums: FleetSums): Diversification[] {
  const { groupSizes } = head.facts
  const nSites = sums.column('sites')
  const all = pooledOf(head, sums.column('cash'), 0, nSites[0] ?? 0)
  const allApart = pooledOf(head, sums.column('independentCash'), 0, nSites[0] ?? 0)
  const aloneContribution = sums.column('singleContribution')
  const aloneCash = sums.column('singleCash90')
  const alone = (column: Float64Array, scope: number): number => (column[scope] ?? 0) / 100
  const rows: Diversification[] = []
  const sites = nSites[0] ?? 0
  if (sites === 0) return rows
  const single = { contribution: alone(aloneContribution, 0) / sites, cash90: alone(aloneCash, 0) / sites }
  rows.push({ sites: 1, groups: sites, contribution: same(single.contribution), cash90: same(single.cash90) })
  const sampleCash = sums.column('sampleCash')
  const sampleApart = sums.column('sampleIndependent')
  for (const size of [...new Set(groupSizes)]) {
    // a group that lost a site to a file that vanished is a little smaller
    const groups = groupSizes.flatMap((own, group) => (own === size && (nSites[1 + group] ?? 0) > 0 ? [group] : []))
    const mean = (of: (group: number) => number): number =>
      groups.reduce((sum, group) => sum + of(group) / (nSites[1 + group] ?? 1), 0) / Math.max(groups.length, 1)
    const together = groups.map(group => pooledOf(head, sampleCash, group, nSites[1 + group] ?? 0))
    const apart = groups.map(group => pooledOf(head, sampleApart, group, nSites[1 + group] ?? 0))
    const at = (list: readonly Pooled[], key: keyof Pooled) => mean(group => list[groups.indexOf(group)]?.[key] ?? 0)
    if (size >= sites || groups.length === 0) continue
    rows.push({
      sites: size,
      groups: groups.length,
      contribution: {
        alone: mean(group => alone(aloneContribution, 1 + group)),
        pooled: at(together, 'contribution'),
        withoutCommonCause: at(apart, 'contribution'),
      },
      cash90: {
        alone: mean(group => alone(aloneCash, 1 + group)),
        pooled: at(together, 'cash90'),
        withoutCommonCause: at(apart, 'cash90'),
      },
    })
  }
  if (sites > 1)
    rows.push({
      sites,
      groups: 1,
      contribution: {
        alone: single.contribution,
        pooled: all.contribution / sites,
        withoutCommonCause: allApart.contribution / sites,
      },
      cash90: { alone: single.cash90, pooled: all.cash90 / sites, withoutCommonCause: allApart.cash90 / sites },
    })
  return rows
}

interface Pooled {
  readonly contribution: number
  readonly cash90: number
}

/** Level contribution and P90 of the cash of some sites together; the opening balance is shared out evenly. */
function pooledOf(head: PartHead, column: Float64Array, group: number, sites: number): Pooled {
  const { draws, years } = head.shape
  const { reserve, sites: allSites } = head.facts
  const opening = (reserve.opening * sites) / Math.max(allSites, 1)
  const factors = new ReserveFactors({ ...reserve, opening }, years)
  const start = group * draws * years
  const needs = new Float64Array(draws)
  const totals = new Float64Array(draws)
  for (let draw = 0; draw < draws; draw++) {
    const row = column.slice(start + draw * years, start + (draw + 1) * years).map(cents => cents / 100)
    needs[draw] = factors.need(row)
    totals[draw] = row.reduce((sum, amount) => sum + amount, 0)
  }
  return { contribution: quantiles(needs, [reserve.confidence])[0] ?? 0, cash90: quantiles(totals, [0.9])[0] ?? 0 }
}

function same(value: number): Diversification['contribution'] {
  return { alone: value, pooled: value, withoutCommonCause: value }
}
