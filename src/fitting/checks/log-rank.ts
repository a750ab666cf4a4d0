import { firstIndex } from '../../numerics/bisection.ts'
import { solve } from '../../numerics/linear-system.ts'
import { riskTable } from '../curves/kaplan-meier.ts'
import { joinRows, type LifeRows } from '../rows.ts'
import { chiSquareTail } from './chi-square-tail.ts'

/** Result of a comparison of groups. */
export interface GroupTest {
  readonly chiSquare: number
  readonly degreesOfFreedom: number
  /** Chance of a difference as large or larger if the groups were alike. */
  readonly pValue: number
}

/**
 * Whether groups fail alike, without any model: failures of each group against those expected if all shared one hazard.
 *
 * @param groups - records of each, exact failures only, at least two groups
 * @returns the log-rank test; null where no age had failures among units of two groups
 * @source Mantel (1966), Cancer Chemotherapy Reports 50, 163–170; Peto & Peto (1972), J. Roy. Statist. Soc. A 135,
 *   185–207 (recalled)
 */
export function logRank(groups: readonly LifeRows[]): GroupTest | null {
  const all = riskTable(joinRows(groups))
  const ages = all.map(row => row.age)
  const tables = groups.map(rows => countsAt(rows, ages))
  const n = groups.length - 1
  const difference = new Array<number>(n).fill(0)
  const variance = difference.map(() => new Array<number>(n).fill(0))
  all.forEach(({ atRisk, failures }, j) => {
    const spread = atRisk > 1 ? (failures * (atRisk - failures)) / (atRisk - 1) : 0
    for (let g = 0; g < n; g++) {
      const own = (tables[g]?.atRisk[j] ?? 0) / atRisk
      difference[g] = (difference[g] ?? 0) + (tables[g]?.failures[j] ?? 0) - failures * own
      const row = variance[g]
      if (row === undefined) continue
      for (let h = 0; h < n; h++) {
        row[h] = (row[h] ?? 0) + spread * own * ((g === h ? 1 : 0) - (tables[h]?.atRisk[j] ?? 0) / atRisk)
      }
    }
  })
  const weighted = solve(variance, difference)
  if (weighted === null) return null
  const chiSquare = weighted.reduce((sum, value, g) => sum + value * (difference[g] ?? 0), 0)
  return { chiSquare, degreesOfFreedom: n, pValue: chiSquareTail(chiSquare, n) }
}

/** Units at risk and failures of one group at given ages, in rising order. */
function countsAt(rows: LifeRows, ages: readonly number[]): { atRisk: Float64Array; failures: Float64Array } {
  const m = ages.length
  const atRisk = new Float64Array(m + 1)
  const failures = new Float64Array(m)
  for (let r = 0; r < rows.counts.length; r++) {
    const count = rows.counts[r] ?? 0
    const end = rows.afterAges[r] ?? 0
    const from = firstIndex(m, j => (ages[j] ?? 0) > (rows.startAges[r] ?? 0))
    const to = firstIndex(m, j => (ages[j] ?? 0) > end)
    if (to <= from) continue
    atRisk[from] = (atRisk[from] ?? 0) + count
    atRisk[to] = (atRisk[to] ?? 0) - count
    if (rows.beforeAges[r] === end) failures[to - 1] = (failures[to - 1] ?? 0) + count
  }
  for (let j = 1; j <= m; j++) atRisk[j] = (atRisk[j] ?? 0) + (atRisk[j - 1] ?? 0)
  return { atRisk, failures }
}
