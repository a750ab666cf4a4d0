import { firstIndex } from '../../numerics/bisection.ts'
import { type LifeRows, lifeAt } from '../rows.ts'

/** One stretch of ages within which the share falls; where inside it falls, the records do not say. */
export interface TurnbullStep {
  /** Lower end; equal to `age` where failures were seen at that very age. */
  readonly afterAge: number
  /** Upper end. */
  readonly age: number
  /** Share of all failures in this stretch. */
  readonly mass: number
  /** Share still working after it. */
  readonly survival: number
}

/**
 * The share of units still working, without any model, when some failures are known only to lie between two ages:
 * the shares that make the records most likely, found by repeated redistribution.
 *
 * @param rows - the records; late-watched units count only from the age they were first watched
 * @returns stretches in rising order with a mass over 1e-9
 * @source Turnbull (1976), J. Roy. Statist. Soc. B 38, 290–295 (recalled)
 */
export function turnbull(rows: LifeRows): TurnbullStep[] {
  const cells = cellsOf(rows)
  const m = cells.length
  if (m === 0) return []
  const lives = spans(rows, cells)
  let mass = new Float64Array(m).fill(1 / m)
  const sums = new Float64Array(m + 1)
  for (let round = 0; round < 20_000; round++) {
    for (let j = 0; j < m; j++) sums[j + 1] = (sums[j] ?? 0) + (mass[j] ?? 0)
    const gain = new Float64Array(m + 1)
    let expected = 0
    for (const { from, to, seenFrom, count } of lives) {
      const inside = (sums[to] ?? 0) - (sums[from] ?? 0)
      if (inside > 0) {
        gain[from] = (gain[from] ?? 0) + count / inside
        gain[to] = (gain[to] ?? 0) - count / inside
        expected += count
      }
      if (seenFrom > 0) {
        // Units that failed before the watch began: by the masses at the ages before.
        const seen = 1 - (sums[seenFrom] ?? 0)
        if (seen > 1e-12) {
          gain[0] = (gain[0] ?? 0) + count / seen
          gain[seenFrom] = (gain[seenFrom] ?? 0) - count / seen
          expected += (count * (1 - seen)) / seen
        }
      }
    }
    const next = new Float64Array(m)
    let running = 0
    let moved = 0
    for (let j = 0; j < m; j++) {
      running += gain[j] ?? 0
      next[j] = ((mass[j] ?? 0) * running) / expected
      moved = Math.max(moved, Math.abs((next[j] ?? 0) - (mass[j] ?? 0)))
    }
    mass = next
    if (moved < 1e-12) break
  }
  const steps: TurnbullStep[] = []
  let survival = 1
  cells.forEach(([afterAge, age], j) => {
    const share = mass[j] ?? 0
    survival -= share
    if (share > 1e-9 && age !== Infinity) steps.push({ afterAge, age, mass: share, survival: Math.max(0, survival) })
  })
  return steps
}

/** The innermost stretches: from a lower end to the next upper end with no lower end between. */
function cellsOf(rows: LifeRows): [after: number, before: number][] {
  // Lower ends are open, (after, before]; an exact failure is the point [age, age], which lies after (…, age].
  const ends: { age: number; rank: number; lower: boolean; exact: boolean }[] = []
  for (let r = 0; r < rows.counts.length; r++) {
    const { startAge, afterAge, beforeAge } = lifeAt(rows, r)
    const exact = afterAge === beforeAge
    // Order at one age: exact lower, exact upper and interval upper, then open lower ends.
    ends.push({ age: afterAge, rank: exact ? 0 : 2, lower: true, exact })
    ends.push({ age: beforeAge, rank: 1, lower: false, exact })
    if (startAge > 0) ends.push({ age: startAge, rank: 2, lower: true, exact: false })
  }
  ends.sort((a, b) => a.age - b.age || a.rank - b.rank)
  const cells: [number, number][] = []
  let open: { age: number } | null = null
  for (const end of ends) {
    if (end.lower) {
      open = end
    } else if (open !== null) {
      cells.push([open.age, end.age])
      open = null
    }
  }
  return cells
}

interface Span {
  /** Cells [from, to) the failure may lie in. */
  readonly from: number
  readonly to: number
  /** First cell in which it could have been watched. */
  readonly seenFrom: number
  readonly count: number
}

function spans(rows: LifeRows, cells: readonly (readonly [number, number])[]): Span[] {
  const lowers = cells.map(([after]) => after)
  const uppers = cells.map(([, before]) => before)
  const merged = new Map<string, Span>()
  for (let r = 0; r < rows.counts.length; r++) {
    const { startAge, afterAge, beforeAge, count } = lifeAt(rows, r)
    const exact = afterAge === beforeAge
    const from = firstIndex(cells.length, j =>
      exact ? (uppers[j] ?? 0) >= afterAge : (lowers[j] ?? 0) >= afterAge && (uppers[j] ?? 0) > afterAge,
    )
    const to = firstIndex(cells.length, j => (uppers[j] ?? 0) > beforeAge)
    const seenFrom = startAge > 0 ? firstIndex(cells.length, j => (uppers[j] ?? 0) > startAge) : 0
    const key = `${from} ${to} ${seenFrom}`
    const known = merged.get(key)
    merged.set(key, { from, to, seenFrom, count: count + (known?.count ?? 0) })
  }
  return [...merged.values()]
}
