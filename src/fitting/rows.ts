/**
 * Field records of one group as numbers: one row a unit's life, or several equal ones with a count. Ages are in the
 * unit of the records throughout `fitting/`.
 */

/** Columns of equal length; row r is one life, or `counts[r]` equal ones. */
export interface LifeRows {
  /** Age when the unit was first watched, >= 0; above 0 it is left-truncated. */
  readonly startAges: Float64Array
  /** Last age at which the unit was known to work, >= startAges. */
  readonly afterAges: Float64Array
  /** Age by which it had failed: equal to `afterAges` for an exact failure, Infinity for a unit still working. */
  readonly beforeAges: Float64Array
  /** Whole number, > 0. */
  readonly counts: Float64Array
  /** Which batch the unit came from; index in the list of names, −1 if not given. */
  readonly batches: Int32Array
  /** Month of installation, counted from year 0; −1 if not given. */
  readonly months: Int32Array
}

/** One life, for tests and small callers. */
export interface Life {
  readonly startAge?: number
  readonly afterAge: number
  readonly beforeAge: number
  readonly count?: number
  readonly batch?: number
  readonly month?: number
}

/**
 * Rows from a list of lives.
 *
 * @param lives - each with its ages; count 1, start 0, no batch and no month unless given
 * @returns the columns, in the order of the list
 */
export function rowsOf(lives: readonly Life[]): LifeRows {
  return {
    startAges: Float64Array.from(lives, life => life.startAge ?? 0),
    afterAges: Float64Array.from(lives, life => life.afterAge),
    beforeAges: Float64Array.from(lives, life => life.beforeAge),
    counts: Float64Array.from(lives, life => life.count ?? 1),
    batches: Int32Array.from(lives, life => life.batch ?? -1),
    months: Int32Array.from(lives, life => life.month ?? -1),
  }
}

/**
 * One row as numbers.
 *
 * @param rows - the columns
 * @param row - index, from 0
 */
export function lifeAt(rows: LifeRows, row: number): Required<Life> {
  return {
    startAge: rows.startAges[row] ?? 0,
    afterAge: rows.afterAges[row] ?? 0,
    beforeAge: rows.beforeAges[row] ?? Infinity,
    count: rows.counts[row] ?? 0,
    batch: rows.batches[row] ?? -1,
    month: rows.months[row] ?? -1,
  }
}

/**
 * The rows of several groups as one.
 *
 * @param groups - any number of groups
 * @returns all their rows, one group after the other
 */
export function joinRows(groups: readonly LifeRows[]): LifeRows {
  const first = groups[0]
  if (first !== undefined && groups.length === 1) return first
  return {
    startAges: joinFloats(groups.map(rows => rows.startAges)),
    afterAges: joinFloats(groups.map(rows => rows.afterAges)),
    beforeAges: joinFloats(groups.map(rows => rows.beforeAges)),
    counts: joinFloats(groups.map(rows => rows.counts)),
    batches: joinWhole(groups.map(rows => rows.batches)),
    months: joinWhole(groups.map(rows => rows.months)),
  }
}

function joinFloats(parts: readonly Float64Array[]): Float64Array {
  const joined = new Float64Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    joined.set(part, at)
    at += part.length
  }
  return joined
}

function joinWhole(parts: readonly Int32Array[]): Int32Array {
  const joined = new Int32Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    joined.set(part, at)
    at += part.length
  }
  return joined
}
