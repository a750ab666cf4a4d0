import { type LifeRows, lifeAt, rowsOf } from '../rows.ts'
import { gather, roundAge } from './pool.ts'

/** Different rows above which all but the last step of a fit works on rounded ages (ours; a million rows in seconds). */
export const MANY_ROWS = 20_000

/**
 * Records with ages rounded and equal ones taken together; batches and months are lost. With three digits an age moves
 * by at most 0.5 %, up and down alike.
 *
 * @param rows - the records
 * @param digits - significant digits kept
 * @returns fewer rows
 */
export function coarseRows(rows: LifeRows, digits: number): LifeRows {
  const n = rows.counts.length
  const working: number[] = []
  const workingCounts: number[] = []
  const failed: number[] = []
  const failedCounts: number[] = []
  const merged = new Map<string, { startAge: number; afterAge: number; beforeAge: number; count: number }>()
  for (let r = 0; r < n; r++) {
    const after = rows.afterAges[r] ?? 0
    const before = rows.beforeAges[r] ?? Infinity
    const count = rows.counts[r] ?? 0
    if (rows.startAges[r] === 0 && before === Infinity) {
      working.push(roundAge(after, digits))
      workingCounts.push(count)
    } else if (rows.startAges[r] === 0 && before === after) {
      failed.push(roundAge(after, digits))
      failedCounts.push(count)
    } else {
      const startAge = roundAge(lifeAt(rows, r).startAge, digits)
      const afterAge = roundAge(after, digits)
      const beforeAge = roundAge(before, digits)
      const key = `${startAge} ${afterAge} ${beforeAge}`
      const known = merged.get(key)
      if (known === undefined) merged.set(key, { startAge, afterAge, beforeAge, count })
      else known.count += count
    }
  }
  const stillWorking = gather(working, workingCounts)
  const hasFailed = gather(failed, failedCounts)
  return rowsOf([
    ...Array.from(stillWorking.ages, (age, i) => ({
      afterAge: age,
      beforeAge: Infinity,
      count: stillWorking.weights[i] ?? 0,
    })),
    ...Array.from(hasFailed.ages, (age, i) => ({ afterAge: age, beforeAge: age, count: hasFailed.weights[i] ?? 0 })),
    ...merged.values(),
  ])
}
