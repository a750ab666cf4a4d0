/** Equal cells from the least to the largest value. Ours: their counts fit into the processor's nearest cache. */
const CELLS = 4096
/** Samples up to this size are partitioned at once. Ours. */
const FEW = 2048

/**
 * The values at some places of the sorted sample: all are counted by cell, and only the cells with a wanted place are
 * searched again, each by itself. The least value has a cell almost to itself, since most values often equal it
 * (nothing paid).
 *
 * @param values - in any order
 * @param ranks - places, ascending
 * @returns one value a place
 */
export function atRanks(values: Float64Array, ranks: readonly number[]): number[] {
  const [least, largest] = endsOf(values)
  if (least === largest) return ranks.map(() => least)
  const perUnit = CELLS / (largest - least)
  if (values.length <= FEW || !(perUnit > 0 && perUnit < Infinity)) {
    if (values.length > scratch.length) scratch = new Float64Array(values.length)
    scratch.set(values)
    let from = 0
    return ranks.map(rank => {
      if (rank >= from) partition(scratch, from, values.length - 1, rank)
      from = rank + 1
      return scratch[rank] ?? Number.NaN
    })
  }
  countCells(values, least, perUnit)
  const found: number[] = []
  let next = 0
  if ((ranks[0] as number) < (counts[0] as number) && onlyLeast(values, least, perUnit)) {
    while (next < ranks.length && (ranks[next] as number) < (counts[0] as number)) next = found.push(least)
  }
  const { cells, room } = wantedCells(counts, ranks, next, places)
  if (room === 0) return found
  const gathered = gather(values, least, perUnit, room)
  for (const { from, to, ranks: own } of cells) found.push(...atRanks(gathered.subarray(from, to), own))
  return found
}

/** A cell with wanted places: where its values are gathered, and the places among them. */
interface WantedCell {
  readonly from: number
  readonly to: number
  readonly ranks: readonly number[]
}

/**
 * The cells of a count in which wanted places of the sorted sample lie.
 *
 * @param counts - values by cell, cells in rising order
 * @param ranks - places, ascending
 * @param first - which of them is the first that is wanted
 * @param places - by cell: set to where its values are to be gathered; other cells stay as they are
 * @returns the cells, and how many values they hold
 */
export function wantedCells(
  counts: Int32Array,
  ranks: readonly number[],
  first: number,
  places: Int32Array,
): { readonly cells: readonly WantedCell[]; readonly room: number } {
  const cells: WantedCell[] = []
  let before = 0
  let next = first
  let room = 0
  for (let cell = 0; next < ranks.length && cell < counts.length; cell++) {
    const count = counts[cell] as number // within the table
    if ((ranks[next] as number) < before + count) {
      const own: number[] = []
      for (let rank = ranks[next]; rank !== undefined && rank < before + count; rank = ranks[++next]) {
        own.push(rank - before)
      }
      places[cell] = room
      cells.push({ from: room, to: room + count, ranks: own })
      room += count
    }
    before += count
  }
  return { cells, room }
}

/** Memory that is reused: a sample that is partitioned. */
let scratch = new Float64Array(FEW)
// likewise, by cell: how many values, and where its next one is put, -1: nowhere
const counts = new Int32Array(CELLS + 1)
const places = new Int32Array(CELLS + 1)
/** 1 for the first cell. */
const isFirst = new Float64Array(CELLS + 1)
isFirst[0] = 1
/**
 * Added to every place, in cells: only the least value, and what is within 1e-6 of a cell above it, stays in the first
 * cell.
 */
const LIFT = 1 - 1e-6

/**
 * Puts the value of one place of the sorted sample there, smaller ones before it, larger ones after it.
 *
 * @source C. HOARE (1961), Algorithm 65: FIND, Comm. ACM 4, 321–322 (recalled)
 */
function partition(values: Float64Array, first: number, last: number, rank: number): void {
  let low = first
  let high = last
  while (low < high) {
    const pivot = values[(low + high) >>> 1] as number // within the sample, as are i and j
    let i = low
    let j = high
    while (i <= j) {
      while ((values[i] as number) < pivot) i++
      while ((values[j] as number) > pivot) j--
      if (i > j) break
      const value = values[i] as number
      values[i++] = values[j] as number
      values[j--] = value
    }
    if (rank <= j) high = j
    else if (rank >= i) low = i
    else return
  }
}

function endsOf(values: Float64Array): readonly [least: number, largest: number] {
  let least = Infinity
  let largest = -Infinity
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number // within the sample
    if (value < least) least = value
    if (value > largest) largest = value
  }
  return [least, largest]
}

function countCells(values: Float64Array, least: number, perUnit: number): void {
  counts.fill(0)
  places.fill(-1)
  for (let i = 0; i < values.length; i++) {
    const cell = (((values[i] as number) - least) * perUnit + LIFT) | 0 // within the sample
    counts[cell] = (counts[cell] as number) + 1
  }
}

/** Whether the first cell holds the least value alone; without a branch, which the processor could not predict. */
function onlyLeast(values: Float64Array, least: number, perUnit: number): boolean {
  let farthest = 0
  for (let i = 0; i < values.length; i++) {
    const above = (values[i] as number) - least // within the sample
    farthest = Math.max(farthest, above * (isFirst[(above * perUnit + LIFT) | 0] as number))
  }
  return farthest === 0
}

function gather(values: Float64Array, least: number, perUnit: number, n: number): Float64Array {
  const gathered = new Float64Array(n)
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number // within the sample
    const cell = ((value - least) * perUnit + LIFT) | 0
    const place = places[cell] as number
    if (place < 0) continue
    gathered[place] = value
    places[cell] = place + 1
  }
  return gathered
}
