import type { History } from '../../history/history.ts'
import { PLANNED, type Rows } from '../../history/rows.ts'
import { FIRST_ROOM } from '../../numerics/first-room.ts'
import { type Claims, NOT_CLAIMED } from '../claims.ts'
import type { OptionTerms } from '../terms.ts'

/**
 * The outages of a history as windows [failure, return + claim days], those of one slot joined and cut at the horizon
 * (O1, O6): lifetime after lifetime, soonest first. The memory is reused.
 */
export class OutageWindows {
  /** Where the windows of each lane begin, and at [n] where the last end. */
  first = new Int32Array(2)
  // by window: where it starts and ends, years; population and row
  start = new Float64Array(FIRST_ROOM)
  end = new Float64Array(FIRST_ROOM)
  place = new Int32Array(FIRST_ROOM)
  row = new Int32Array(FIRST_ROOM)
  /** By population and row: end of the window. */
  readonly #ends: Float64Array[] = []
  /** By population and row: end of the window under other claims. */
  readonly #otherEnds: Float64Array[] = []
  #next = new Int32Array(2)

  /**
   * Opens the windows of all lifetimes.
   *
   * @param history - the lifetimes
   * @param terms - of the option
   * @param claims - by population: a claimed failure is down for `claim_days` more
   */
  find(history: History, terms: OptionTerms, claims: readonly Claims[]): void {
    const { n, rows } = history
    this.#placeByLane(history, terms)
    for (let place = 0; place < rows.length; place++) {
      const own = rows[place]
      const ends = this.#ends[place]
      const unit = terms.units[place]
      const decided = claims[place]
      if (own === undefined || ends === undefined || unit === undefined || decided === undefined) continue
      if (unit.role !== 'nothing') this.#open(own, place, unit.claimYears, terms.horizonYears, decided, ends)
    }
    for (let lane = 0; lane < n; lane++) {
      const from = this.first[lane] as number // every lane has its entries
      const to = this.first[lane + 1] as number
      if (to > from) this.#sort(from, to)
    }
  }

  /** Prepares for `findAnew`. */
  beginAnew({ rows }: History): void {
    for (let place = 0; place < rows.length; place++) {
      const ends = this.#ends[place]
      if (ends !== undefined) this.#otherEnds[place]?.set(ends.subarray(0, rows[place]?.n ?? 0))
    }
  }

  /**
   * Opens some windows under other claims, after all others. No earlier window of the lifetime may overlap them, whatever is
   * claimed.
   *
   * @param history - the lifetimes
   * @param terms - of the option
   * @param claims - by population
   * @param from - first of the windows
   * @param to - the one after the last
   * @returns place of the first of those opened
   */
  findAnew({ n, rows }: History, terms: OptionTerms, claims: readonly Claims[], from: number, to: number): number {
    const base = this.first[n] as number
    this.#reserve(base + to - from)
    for (let window = from; window < to; window++) {
      const place = this.place[window] as number
      const row = this.row[window] as number
      const own = rows[place]
      const ends = this.#otherEnds[place]
      const decided = claims[place]
      if (own === undefined || ends === undefined || decided === undefined) continue
      const claimYears = terms.units[place]?.claimYears ?? 0
      const at = base + window - from
      this.start[at] = startOf(own, row, ends)
      this.end[at] = endOf(own, row, claimYears, terms.horizonYears, decided, ends)
      this.place[at] = place
      this.row[at] = row
      ends[row] = this.end[at] as number
    }
    this.#sort(base, base + to - from)
    return base
  }

  /** Counts windows by lane and gives each lane its place. */
  #placeByLane({ n, rows }: History, { units }: OptionTerms): void {
    if (this.first.length < n + 2) {
      this.first = new Int32Array(2 * n + 2)
      this.#next = new Int32Array(2 * n + 2)
    }
    const first = this.first
    first.fill(0, 0, n + 1)
    for (let place = 0; place < rows.length; place++) {
      const own = rows[place]
      if (own === undefined) continue
      if ((this.#ends[place]?.length ?? 0) < own.n) {
        this.#ends[place] = new Float64Array(2 * own.n)
        this.#otherEnds[place] = new Float64Array(2 * own.n)
      }
      if (units[place]?.role !== 'nothing') countByLane(own, first)
    }
    for (let lane = 0; lane < n; lane++) first[lane + 1] = (first[lane + 1] as number) + (first[lane] as number)
    this.#next.set(first.subarray(0, n + 1))
    this.#reserve(first[n] as number)
  }

  #open(rows: Rows, place: number, claimYears: number, horizonYears: number, claims: Claims, ends: Float64Array): void {
    const { start, end } = this
    const next = this.#next
    for (let row = 0; row < rows.n; row++) {
      const lane = rows.lane[row] as number // the row is there, as is its window
      const window = next[lane] as number
      next[lane] = window + 1
      start[window] = startOf(rows, row, ends)
      const until = endOf(rows, row, claimYears, horizonYears, claims, ends)
      end[window] = until
      ends[row] = until
      this.place[window] = place
      this.row[window] = row
    }
  }

  /** By insertion: the windows of a lane are nearly in order. */
  #sort(from: number, to: number): void {
    const { start, end, place, row } = this
    for (let i = from + 1; i < to; i++) {
      const at = start[i] as number // all are there
      if ((start[i - 1] as number) <= at) continue
      const until = end[i] as number
      const population = place[i] as number
      const own = row[i] as number
      let j = i
      for (; j > from && (start[j - 1] as number) > at; j--) {
        start[j] = start[j - 1] as number
        end[j] = end[j - 1] as number
        place[j] = place[j - 1] as number
        row[j] = row[j - 1] as number
      }
      start[j] = at
      end[j] = until
      place[j] = population
      row[j] = own
    }
  }

  #reserve(windows: number): void {
    if (windows <= this.start.length) return
    const [start, end, place, row] = [this.start, this.end, this.place, this.row]
    this.start = new Float64Array(2 * windows)
    this.end = new Float64Array(2 * windows)
    this.place = new Int32Array(2 * windows)
    this.row = new Int32Array(2 * windows)
    this.start.set(start)
    this.end.set(end)
    this.place.set(place)
    this.row.set(row)
  }
}

function countByLane({ n, lane }: Rows, first: Int32Array): void {
  for (let row = 0; row < n; row++) {
    const after = (lane[row] as number) + 1 // every row has a lane
    first[after] = (first[after] as number) + 1
  }
}

/** The failure, or the end of the window before it in its slot. */
function startOf(rows: Rows, row: number, ends: Float64Array): number {
  const before = rows.before[row] as number // the row is there
  const failedAt = rows.failedAt[row] as number
  return before < 0 ? failedAt : Math.max(failedAt, ends[before] as number)
}

function endOf(
  rows: Rows,
  row: number,
  claimYears: number,
  horizonYears: number,
  claims: Claims,
  ends: Float64Array,
): number {
  const before = rows.before[row] as number // the row is there
  const earlier = before < 0 ? 0 : (ends[before] as number)
  const claimed = claims.parts[row] !== NOT_CLAIMED && rows.action[row] !== PLANNED
  const start = Math.max(rows.failedAt[row] as number, earlier)
  const close = Math.max((rows.returnedAt[row] as number) + (claimed ? claimYears : 0), start)
  return Math.max(Math.min(close, horizonYears), earlier)
}
