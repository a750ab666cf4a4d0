import type { Fit } from '../likelihood/fit-model.ts'
import { modesOfForm } from '../likelihood/form.ts'
import { modeSum, plainMode } from '../likelihood/mode-terms.ts'
import { type LifeRows, lifeAt } from '../rows.ts'
import { poissonTail } from './chi-square-tail.ts'

/** A batch or a month of installation with more failures than its units should have had. */
export interface Cluster {
  /** Index of the batch, or month counted from year 0. */
  readonly index: number
  readonly seen: number
  readonly expected: number
  /** Chance of so many, allowing for the number of batches or months examined. */
  readonly pValue: number
}

/** Under this chance a cluster is named (ours). */
const NAMED_UNDER = 0.01

/** Failures under which a cluster is not named, however unlikely (ours). */
const FEWEST = 3

/**
 * Batches or months of installation that failed more than the fitted model expects of their units. The expectation
 * includes the cluster's own failures, so a cluster looks a little smaller than it is.
 *
 * @param rows - the records
 * @param fit - the model
 * @param by - what to examine
 * @returns clusters, the most unlikely first; none where fewer than two batches or months are given
 */
export function findClusters(rows: LifeRows, fit: Fit, by: 'batches' | 'months'): Cluster[] {
  const modes = modesOfForm(fit.form, fit.x).map(plainMode)
  const hazardAt = (age: number): number =>
    age > 0 ? modes.reduce((sum, mode) => sum + modeSum(mode, Math.log(age)), 0) : 0
  const seen = new Map<number, number>()
  const expected = new Map<number, number>()
  for (let r = 0; r < rows.counts.length; r++) {
    const index = rows[by][r] ?? -1
    if (index < 0) continue
    const { startAge, afterAge, beforeAge, count } = lifeAt(rows, r)
    const end = beforeAge === Infinity ? afterAge : (afterAge + beforeAge) / 2
    expected.set(index, (expected.get(index) ?? 0) + count * (hazardAt(end) - hazardAt(startAge)))
    if (beforeAge !== Infinity) seen.set(index, (seen.get(index) ?? 0) + count)
  }
  if (expected.size < 2) return []
  const clusters: Cluster[] = []
  for (const [index, failures] of seen) {
    const mean = expected.get(index) ?? 0
    const pValue = Math.min(1, poissonTail(failures, mean) * expected.size)
    if (failures >= FEWEST && pValue < NAMED_UNDER) clusters.push({ index, seen: failures, expected: mean, pValue })
  }
  return clusters.sort((a, b) => a.pValue - b.pValue || a.index - b.index)
}
