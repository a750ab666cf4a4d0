import { pool, roundAge } from './pool.ts'
import { lifeAt, type Rows, rowsOf } from './rows.ts'

/** Different rows above which curves and checks work on rounded ages (ours; keeps a million rows to seconds). */
const MANY_ROWS = 20_000

/**
 * Records for curves and checks: as they are, or, where there are very many different ones, with ages rounded to four
 * digits and equal ones taken together. An age moves by at most 0.05 %. Batches and months are lost.
 *
 * @param rows - the records
 * @returns the same rows, or fewer
 */
export function coarseRows(rows: Rows): Rows {
  if (rows.counts.length <= MANY_ROWS) return rows
  const plain: number[] = []
  const failedEach: number[] = []
  const others: number[] = []
  for (let r = 0; r < rows.counts.length; r++) {
    if ((rows.startAges[r] ?? 0) === 0 && rows.beforeAges[r] === Infinity) plain.push(r)
    else if ((rows.startAges[r] ?? 0) === 0 && rows.beforeAges[r] === rows.afterAges[r]) failedEach.push(r)
    else others.push(r)
  }
  const working = pool(subset(rows, plain), 4).exposures
  const failed = pool(subset(rows, failedEach), 4).failures
  const merged = new Map<string, { startAge: number; afterAge: number; beforeAge: number; count: number }>()
  for (const r of others) {
    const life = lifeAt(rows, r)
    const startAge = roundAge(life.startAge, 4)
    const afterAge = roundAge(life.afterAge, 4)
    const beforeAge = roundAge(life.beforeAge, 4)
    const key = `${startAge} ${afterAge} ${beforeAge}`
    const known = merged.get(key)
    if (known === undefined) merged.set(key, { startAge, afterAge, beforeAge, count: life.count })
    else known.count += life.count
  }
  return rowsOf([
    ...Array.from(working.ages, (age, i) => ({ afterAge: age, beforeAge: Infinity, count: working.weights[i] ?? 0 })),
    ...Array.from(failed.ages, (age, i) => ({ afterAge: age, beforeAge: age, count: failed.weights[i] ?? 0 })),
    ...merged.values(),
  ])
}

function subset(rows: Rows, kept: readonly number[]): Rows {
  return {
    startAges: Float64Array.from(kept, r => rows.startAges[r] ?? 0),
    afterAges: Float64Array.from(kept, r => rows.afterAges[r] ?? 0),
    beforeAges: Float64Array.from(kept, r => rows.beforeAges[r] ?? Infinity),
    counts: Float64Array.from(kept, r => rows.counts[r] ?? 0),
    batches: Int32Array.from(kept, () => -1),
    months: Int32Array.from(kept, () => -1),
  }
}
